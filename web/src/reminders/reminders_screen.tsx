// SPDX-License-Identifier: MIT
// "Reminders": that they are no alarms comes first; then this phone, the calendar, and how the household wishes them.
import "../first_view";
import { useEffect, useState } from "preact/hooks";
import { reminders_of, type Reminders } from "../api/reminders";
import { Refused } from "../access/refused";
import { useAsk } from "../access/use_ask";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import { may_perhaps } from "../state/session";
import { reminders } from "../words/cautions";
import { tell } from "../words/catalogue/remind";
import { CalendarPart } from "./calendar_part";
import { ClosedPart } from "./closed_part";
import { PhonePart } from "./phone_part";
import { SettingsPart } from "./settings_part";

function RemindersScreen({ desk, done }: FormProps) {
  const { said, ask } = useAsk();
  const [told, set_told] = useState<Reminders | null>(null);
  const load = async (): Promise<void> => {
    const answer = await ask(() => reminders_of(desk.name));
    if (answer) set_told(answer.got);
  };
  useEffect(() => void load(), []);
  const { now, session } = desk.value;
  const shared = { household: desk.name, now, zone: context_of(desk).zone, changed: () => void load() };
  return (
    <Screen title={tell("remind.title")} back={done}>
      <p class="strong">{reminders}</p>
      {!told?.closed_at && <p class="told">{tell("remind.what_they_are")}</p>}
      <Refused said={said} />
      {!told && !said && <p role="status">{tell("remind.asking")}</p>}
      {told?.closed_at && <ClosedPart {...shared} told={told} />}
      {told && !told.closed_at && (
        <>
          <PhonePart {...shared} push={told.push} />
          <CalendarPart {...shared} calendar={told.calendar} />
          {may_perhaps(session, "record-plans") && (
            <>
              <h2 class="part">{tell("remind.wishes")}</h2>
              {!told.push.offered && <p class="strong">{tell("remind.nobody_is_told")}</p>}
              <SettingsPart household={desk.name} settings={told.settings} kept={() => void load()} />
            </>
          )}
        </>
      )}
    </Screen>
  );
}

export const screens = { reminders: RemindersScreen };
