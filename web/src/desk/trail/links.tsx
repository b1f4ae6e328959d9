// SPDX-License-Identifier: MIT
// Links of the trail, the newest first, a part of them at a time: what happened, to whom, when, by which account.
import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { to } from "../../staff/place";
import { Asked } from "../common/asked";
import { moment, today_of } from "../common/dates";
import { useDocument } from "../common/use_document";
import type { TrailLink, TrailPart } from "../trail_types";
import { csv_of, save_csv } from "./csv";
import { action_words, short, subject_words, who_words, type Names } from "./link_words";

const part_size = 100;
/// Higher than any link's number: the newest, without the whole chain being computed once more.
const newest = String(Number.MAX_SAFE_INTEGER);

interface LineProps {
  link: TrailLink;
  today: string;
  names: Names;
  in_full: boolean;
  breaks: boolean;
  whole: boolean | null;
}

function What({ link, names, in_full, whole }: Omit<LineProps, "today" | "breaks">) {
  if (link.erased) {
    return <p>{whole ? "Erased with its household. Only its hashes are left." : "Its record is gone. Only its hashes are left: an erased household leaves such links."}</p>;
  }
  const subject = subject_words(link, names, in_full);
  return (
    <p>
      <b>{action_words(link.action ?? "")}</b>
      {subject && `: ${subject}`}
    </p>
  );
}

function Line(props: LineProps) {
  const { link, today, names, in_full, breaks } = props;
  return (
    <li class={breaks ? "line-urgent" : undefined}>
      <p class="trail-number">
        <span>{link.number}</span> {link.at && <time dateTime={link.at}>{in_full ? link.at : moment(link.at, today)}</time>}
      </p>
      <div>
        <What {...props} />
        {breaks && <p class="strong">The break is told of this link.</p>}
      </div>
      <p>{link.household && <a href={to("desk", { household: link.household })}>{link.household}</a>}</p>
      <p>{!link.erased && <span>{`by ${who_words(link, names, in_full)}`}</span>}</p>
      {in_full ? (
        <dl class="trail-hashes">
          <dt>Hash</dt>
          <dd>
            <code class="hash">{link.hash}</code>
          </dd>
          <dt>Hash of the content</dt>
          <dd>
            <code class="hash">{link.content_hash}</code>
          </dd>
        </dl>
      ) : (
        <code class="hash">{short(link.hash)}</code>
      )}
    </li>
  );
}

export interface LinksProps {
  /// Links with lower numbers; empty: the newest.
  before: string;
  names: Names;
  broken_at: number | null;
  whole: boolean | null;
}

function range_of(links: readonly TrailLink[], before: string): string {
  const [first, last] = [links[0]?.number, links.at(-1)?.number];
  return before ? `Links ${first} to ${last}` : "The newest links";
}

/// Another part of the list begins at its top, from the moment that it stands there.
function use_top(before: string, there: boolean): RefObject<HTMLHeadingElement> {
  const heading = useRef<HTMLHeadingElement>(null);
  const shown = useRef(before);
  useLayoutEffect(() => {
    if (!there || shown.current === before) return;
    shown.current = before;
    heading.current?.scrollIntoView();
    heading.current?.focus({ preventScroll: true });
  }, [before, there]);
  return heading;
}

interface ShownProps extends LinksProps {
  part: TrailPart;
  heading: RefObject<HTMLHeadingElement>;
}

function Shown({ part: { links, next }, heading, before, names, broken_at, whole }: ShownProps) {
  const [in_full, set_in_full] = useState(false);
  const today = today_of(new Date());
  if (!links.length) return <p>{before ? "There are no links with lower numbers." : "Nothing is in the trail yet."}</p>;
  const name = `audit-trail-${links[0]?.number}-to-${links.at(-1)?.number}.csv`;
  return (
    <section aria-labelledby="links-name">
      <h2 id="links-name" ref={heading} tabIndex={-1}>
        {range_of(links, before)}
      </h2>
      <div class="answers">
        {before && <a href={to("desk/trail")}>The newest</a>}
        <button type="button" onClick={() => set_in_full(!in_full)}>
          {in_full ? "Show hashes and ids short" : "Show whole hashes and ids"}
        </button>
        <button type="button" onClick={() => save_csv(name, csv_of(links, names))}>
          These as a CSV file
        </button>
      </div>
      <ul class={in_full ? "lines trail-links in-full" : "lines trail-links"}>
        {links.map((link) => <Line key={link.number} {...{ link, today, names, in_full, whole }} breaks={link.number === broken_at} />)}
      </ul>
      <p class="trail-older">{next ? <a class="button" href={to("desk/trail", { before: next })}>Older</a> : "This is the beginning of the trail."}</p>
    </section>
  );
}

export function Links(props: LinksProps) {
  const asked = useDocument<TrailPart>(`/audit?limit=${part_size}&cursor=${encodeURIComponent(props.before || newest)}`);
  const heading = use_top(props.before, asked.got !== null);
  return (
    <Asked asked={asked} what="the links">
      {(part) => <Shown part={part} heading={heading} {...props} />}
    </Asked>
  );
}
