// SPDX-License-Identifier: MIT
// "More": what this page does not know, and what to keep to. And how it looks on this phone.
import { useState } from "preact/hooks";
import type { FormProps } from "../forms/use_form";
import { Choices } from "../parts/fields";
import { HandlingSteps } from "../parts/handling_steps";
import { Screen } from "../parts/screen";
import { may } from "../state/session";
import { set_theme, theme } from "../state/theme";
import { disclaimer, more, reminders } from "../words/cautions";
import { language, languages, set_language } from "../words/language";
import { tell } from "../words/catalogue/behind";

const themes = [
  { value: "auto", words: tell("more.as_the_phone") },
  { value: "light", words: tell("more.light") },
  { value: "dark", words: tell("more.dark") },
];

export function More({ desk, done }: FormProps) {
  const { household, forecast, session } = desk.value;
  const [look, set_look] = useState<string>(theme());
  return (
    <Screen title={tell("more.what_to_keep_to")} back={done}>
      <p class="strong">{disclaimer}</p>
      <ul class="cautions">
        {[...more, reminders, ...(forecast?.cautions ?? [])].map((caution) => <li key={caution}>{caution}</li>)}
      </ul>
      <h2>{tell("more.handling_the_unit")}</h2>
      <HandlingSteps household={household} />
      <h2>{tell("more.this_phone")}</h2>
      <Choices
        name="theme" legend={tell("more.light_or_dark")} value={look} choices={themes}
        onChange={(value) => {
          set_theme(value);
          set_look(value);
        }}
      />
      <Choices
        name="language" legend={tell("more.language")} value={language()} onChange={set_language}
        choices={languages.map(({ value, words }) => ({ value, words, hint: value === "es" ? tell("more.not_checked") : undefined }))}
      />
      <p>
        {session && tell("more.in_the_records", { label: session.label })}
        {may(session, "see-phones") && <a href="#phones">{tell("more.phones_of_this_home")}</a>}
      </p>
      <p>{tell("more.cleared_storage")}</p>
      <p>
        <a class="way" href="#card">{tell("more.a_card_for_the_fridge")}</a>
      </p>
      <p>
        <a class="way" href="#handover">{tell("more.handover")}</a>
      </p>
      <p>
        <a class="way" href="#sign_out">{tell("more.sign_this_phone_out")}</a>
      </p>
    </Screen>
  );
}
