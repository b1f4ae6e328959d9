// SPDX-License-Identifier: MIT
// The board as the service keeps it: the first page for the first view, the rest behind it, again each minute and after
// what was done here. Rows that did not change are the same objects, so that nothing is drawn anew for them.
import { get } from "../../api/client";
import { Store } from "../../state/store";
import type { Board, BoardRow } from "../board_types";
import { desk_refusal, type Said } from "../common/said";
import { heed_zone } from "../common/zone";

interface BoardState {
  rows: readonly BoardRow[] | null;
  as_of: string;
  computed: number;
  of: number;
  whole: boolean;
  said: Said | null;
}

const first_page = 200;
const page = 2_000;
const again_ms = 60_000;
const computing_ms = 3_000;

export class BoardStore extends Store<BoardState> {
  private turn = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private version = "";

  constructor() {
    super({ rows: null, as_of: "", computed: 0, of: 0, whole: false, said: null });
  }

  start(): () => void {
    void this.load();
    const back = (): void => void (document.hidden || this.load());
    document.addEventListener("visibilitychange", back);
    return () => {
      this.turn++;
      clearTimeout(this.timer);
      document.removeEventListener("visibilitychange", back);
    };
  }

  /// What was just done here is shown before the service has told it again.
  replace(row: BoardRow): void {
    this.set({ rows: this.value.rows?.map((one) => (one.household === row.household ? row : one)) ?? null });
  }

  async load(): Promise<void> {
    const turn = ++this.turn;
    clearTimeout(this.timer);
    const rows: BoardRow[] = [];
    let cursor: string | null = "0";
    while (cursor !== null) {
      const answer: Awaited<ReturnType<typeof get<Board>>> = await get<Board>(`/board?limit=${rows.length ? page : first_page}&cursor=${encodeURIComponent(cursor)}`);
      if (turn !== this.turn) return;
      if (!("got" in answer)) {
        this.set({ said: desk_refusal(answer) });
        this.later(again_ms);
        return;
      }
      const got: Board = answer.got;
      heed_zone(got);
      rows.push(...got.rows);
      cursor = got.next;
      const { as_of, computed, of } = got;
      if (rows.length === got.rows.length && !this.value.rows) this.set({ rows: [...rows], as_of, computed, of, whole: cursor === null, said: null });
      if (cursor !== null) continue;
      const changed = got.version !== this.version || !this.value.whole;
      this.version = got.version;
      this.set({ as_of, computed, of, whole: true, said: null, ...(changed && { rows }) });
    }
    this.later(this.value.computed < this.value.of ? computing_ms : again_ms);
  }

  private later(ms: number): void {
    this.timer = setTimeout(() => void this.load(), ms);
  }
}
