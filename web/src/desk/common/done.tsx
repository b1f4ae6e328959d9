// SPDX-License-Identifier: MIT
// "Recorded", with its undo, at the foot of the desk until the next thing is done or it is closed.
import { Store, useStore } from "../../state/store";

interface Note {
  words: string;
  /// Resolves to what to say then; null: it could not be undone.
  undo: (() => Promise<string | null>) | null;
  busy: boolean;
  failed: boolean;
}

const store = new Store<{ note: Note | null }>({ note: null });

export function say_done(words: string, undo: Note["undo"] = null): void {
  store.set({ note: { words, undo, busy: false, failed: false } });
}

export function forget_done(): void {
  store.set({ note: null });
}

async function take_back(note: Note): Promise<void> {
  store.set({ note: { ...note, busy: true, failed: false } });
  const words = (await note.undo?.()) ?? null;
  store.set({ note: words === null ? { ...note, busy: false, failed: true } : { words, undo: null, busy: false, failed: false } });
}

export function DoneBar() {
  const { note } = useStore(store);
  return (
    <div class="done-bar" role="status">
      {note && (
        <div class="desk-done">
          <p>{note.failed ? `${note.words} It could not be undone: try again.` : note.words}</p>
          {note.undo && (
            <button type="button" disabled={note.busy} onClick={() => void take_back(note)}>
              Undo
            </button>
          )}
          <button type="button" class="plain" onClick={forget_done}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}
