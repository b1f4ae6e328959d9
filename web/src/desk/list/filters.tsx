// SPDX-License-Identifier: MIT
// What the list shows: search, area, which households, their order; and views with names, kept on this device.
import type { RefObject } from "preact";
import { useState } from "preact/hooks";
import { attention_words } from "../common/words";
import type { Attention } from "../board_types";
import { say_done } from "../common/done";
import { forget_view, save_view, saved_views } from "./saved_views";
import { first_view, type SortKey, type View } from "./view";

interface Props {
  view: View;
  areas: string[];
  change: (view: View) => void;
  search: RefObject<HTMLInputElement>;
}

const shows: readonly { value: View["show"]; words: string }[] = [
  { value: "all", words: "All households" }, { value: "attention", words: "All that need something" },
  ...(Object.entries(attention_words) as [Attention, string][]).map(([value, words]) => ({ value, words })), { value: "closed", words: "Closed" },
];

const sorts: readonly { value: SortKey; words: string }[] = [
  { value: "urgency", words: "Most urgent first" }, { value: "deliver_by", words: "Deliver by" }, { value: "count", words: "Oldest count first" },
  { value: "round", words: "Next round" }, { value: "area", words: "Area" }, { value: "household", words: "Household" },
];

interface PickProps<T extends string> {
  name: string;
  value: T;
  choices: readonly { value: T; words: string }[];
  change: (value: T) => void;
}

export function Picked<T extends string>({ name, value, choices, change }: PickProps<T>) {
  return (
    <label class="pick">
      <span>{name}</span>
      <select value={value} onChange={(event) => change(event.currentTarget.value as T)}>
        {choices.map((one) => (
          <option key={one.value} value={one.value}>
            {one.words}
          </option>
        ))}
      </select>
    </label>
  );
}

const same = (a: View, b: View): boolean => (Object.keys(first_view) as (keyof View)[]).every((key) => a[key] === b[key]);

function Views({ view, change }: Pick<Props, "view" | "change">) {
  const [views, set_views] = useState(saved_views);
  const [name, set_name] = useState<string | null>(null);
  const keep = (event: Event): void => {
    event.preventDefault();
    const trimmed = name?.trim();
    if (!trimmed) return;
    set_views(save_view(trimmed, view));
    set_name(null);
    say_done(`The view “${trimmed}” is kept on this device.`, async () => {
      set_views(forget_view(trimmed));
      return `The view “${trimmed}” is gone.`;
    });
  };
  const forget = (one: { name: string; view: View }): void => {
    set_views(forget_view(one.name));
    say_done(`The view “${one.name}” is gone.`, async () => {
      set_views(save_view(one.name, one.view));
      return `The view “${one.name}” is back.`;
    });
  };
  const chosen = views.find((one) => same(one.view, view));
  return (
    <div class="views" role="group" aria-label="Views kept on this device">
      <button type="button" aria-pressed={same(view, first_view)} onClick={() => change(first_view)}>
        Everything
      </button>
      {views.map((one) => (
        <button type="button" key={one.name} aria-pressed={one === chosen} onClick={() => change(one.view)}>
          {one.name}
        </button>
      ))}
      {chosen && (
        <button type="button" class="plain" onClick={() => forget(chosen)}>
          {`Forget “${chosen.name}”`}
        </button>
      )}
      {name === null && !chosen && !same(view, first_view) && (
        <button type="button" class="plain" onClick={() => set_name("")}>
          Keep this view
        </button>
      )}
      {name !== null && (
        <form class="naming" onSubmit={keep}>
          <label>
            <span class="unseen">Name of the view</span>
            <input value={name} placeholder="Its name" maxLength={40} ref={(one) => one?.focus()} onInput={(event) => set_name(event.currentTarget.value)} />
          </label>
          <button type="submit" disabled={!name.trim()}>
            Keep
          </button>
          <button type="button" class="plain" onClick={() => set_name(null)}>
            Leave it
          </button>
        </form>
      )}
    </div>
  );
}

export function Filters({ view, areas, change, search }: Props) {
  const set = (part: Partial<View>): void => change({ ...view, ...part });
  return (
    <div class="filters">
      <label class="pick search">
        <span>
          Search <kbd>/</kbd>
        </span>
        <input ref={search} type="search" value={view.text} autocomplete="off" onInput={(event) => set({ text: event.currentTarget.value })} />
      </label>
      <Picked name="Which" value={view.show} choices={shows} change={(show) => set({ show })} />
      <Picked name="Area" value={view.area} choices={[{ value: "", words: "All areas" }, ...areas.map((area) => ({ value: area, words: area }))]} change={(area) => set({ area })} />
      <Picked name="Order" value={view.sort} choices={sorts} change={(sort) => set({ sort })} />
      <Views view={view} change={change} />
    </div>
  );
}
