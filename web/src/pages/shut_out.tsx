// SPDX-License-Identifier: MIT
// What stands in place of the household's page where this phone is not signed in, or not now: calm, what it means for
// the night, what is kept, and the way back in.
import type { Problem } from "../api/types";
import type { Intention } from "../state/intention";
import { ended_words } from "../words/ended";
import { tell } from "../words/catalogue/first";

function kept_words(waiting: Intention[]): string | null {
  return waiting.length ? tell("shut_out.kept", { count: waiting.length }) : null;
}

interface Props {
  problem: Problem;
  waiting: Intention[];
  now: Date;
}

export function ShutOut({ problem, waiting, now }: Props) {
  const signed_out = problem.status === 401;
  const kept = kept_words(waiting);
  const why = signed_out ? ended_words(problem, now, Intl.DateTimeFormat().resolvedOptions().timeZone) : problem.detail;
  return (
    <main>
      <h1>{signed_out ? tell("shut_out.this_phone_is_not_signed_in") : tell("shut_out.outside_the_hours_of_this_phone")}</h1>
      <div class="card" role="status">
        <p class="strong">{tell("shut_out.the_unit_does_not_need_this")}</p>
        <p>{tell(signed_out ? "shut_out.none_until_signed_in" : "shut_out.none_now")}</p>
        {why && <p>{why}</p>}
      </div>
      {kept && <p class="told strong">{kept}</p>}
      {signed_out && (
        <a class="button main" href="/in">
          {tell("shut_out.sign_in_again")}
        </a>
      )}
    </main>
  );
}
