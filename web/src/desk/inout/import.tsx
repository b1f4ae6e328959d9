// SPDX-License-Identifier: MIT
// Tables in: chosen, tried, and only then brought in, all of it or nothing.
import { useState } from "preact/hooks";
import { send_once } from "../../api/client";
import { Refused } from "../../access/refused";
import { useAsk } from "../../access/use_ask";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { count_of, list_words } from "../common/words";
import { Picked } from "../list/filters";
import type { ImportCheck, ImportProblem } from "../lot_types";
import { columns, import_file, type ImportFile, type Kind } from "./files";
import { Problems } from "./problems";

interface Body {
  files: { kind: Kind; name: string; csv_base64: string }[];
  accept: string[];
}

const body_of = (files: readonly ImportFile[], accept: string[]): Body => ({ files: files.map(({ kind, name, csv_base64 }) => ({ kind, name, csv_base64 })), accept });

function what_words({ households, items, counts }: ImportCheck["would"]): string {
  return list_words([households && count_of(households, "household"), items && count_of(items, "item"), counts && count_of(counts, "count")].filter(Boolean) as string[]) || "nothing";
}

function Chosen({ files, change }: { files: readonly ImportFile[]; change: (files: ImportFile[]) => void }) {
  return (
    <ul class="lines">
      {files.map((one, index) => (
        <li key={one.name} class="stop-head">
          <p>
            <b>{one.name}</b>
            <small>{`${count_of(one.lines.filter(Boolean).length, "line")}, the first: ${one.lines[0]?.slice(0, 120)}`}</small>
          </p>
          <Picked
            name="These are" value={one.kind} choices={(Object.keys(columns) as Kind[]).map((kind) => ({ value: kind, words: kind }))}
            change={(kind) => change(files.map((other, at) => (at === index ? { ...other, kind } : other)))}
          />
          <button type="button" class="small-act" onClick={() => change(files.filter((_, at) => at !== index))}>
            Leave it out<span class="unseen">{`: ${one.name}`}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

interface FoundProps {
  check: ImportCheck;
  files: readonly ImportFile[];
  accept: string[];
  set_accept: (accept: string[]) => void;
}

function Found({ check, files, accept, set_accept }: FoundProps) {
  const asked = [...new Set([...accept, ...check.problems.filter((one) => one.severity === "ask").map((one) => one.code)])];
  const example = (code: string): ImportProblem | undefined => check.problems.find((one) => one.code === code);
  return (
    <>
      <p class="strong" role="status">
        {`It would bring in ${what_words(check.would)}. ${check.errors ? `${count_of(check.errors, "mistake")} to mend first.` : "No mistake found."}${check.asked ? ` ${count_of(check.asked, "question")}.` : ""} Nothing is stored yet.`}
      </p>
      {asked.map((code) => (
        <label class="choice" key={code}>
          <input type="checkbox" checked={accept.includes(code)} onChange={(event) => set_accept(event.currentTarget.checked ? [...accept, code] : accept.filter((one) => one !== code))} />
          <span>
            {`Meant so: ${code.replace(/-/g, " ")}`}
            {example(code) && <small>{`${count_of(check.problems.filter((one) => one.code === code).length, "line")}, such as: ${example(code)?.text}`}</small>}
          </span>
        </label>
      ))}
      <Problems problems={check.problems} more={check.more_problems} files={files} />
    </>
  );
}

export function Import() {
  const [files, set_files] = useState<ImportFile[]>([]);
  const [check, set_check] = useState<ImportCheck | null>(null);
  const [accept, set_accept] = useState<string[]>([]);
  const trying = useAsk();
  const bringing = useSend();
  const change = (next: ImportFile[]): void => {
    set_files(next);
    set_check(null);
    bringing.clear();
  };
  const choose = async (chosen: FileList | null): Promise<void> => {
    const read = await Promise.all([...(chosen ?? [])].map(async (one) => import_file(one.name, new Uint8Array(await one.arrayBuffer()))));
    change([...files.filter((one) => !read.some((other) => other.name === one.name)), ...read]);
  };
  const try_out = async (accepted: string[]): Promise<void> => {
    const answer = await trying.ask(() => send_once<ImportCheck>("POST", "/imports/check", body_of(files, accepted)));
    if (answer) set_check(answer.got);
  };
  const agree = (accepted: string[]): void => {
    set_accept(accepted);
    void try_out(accepted);
  };
  const bring = async (): Promise<void> => {
    const answer = await bringing.send<{ text: string }>("/imports", body_of(files, accept));
    if (!answer) return void try_out(accept);
    say_done(answer.text || "It is in.");
    set_files([]);
    set_check(null);
    set_accept([]);
  };
  return (
    <section aria-labelledby="in-name">
      <h2 id="in-name">In</h2>
      <p>Tables as CSV, UTF-8, with their columns in the first line. References only: no names, addresses or diagnoses.</p>
      <details>
        <summary>Which columns</summary>
        <dl class="columns">
          {(Object.keys(columns) as Kind[]).map((kind) => (
            <div key={kind}>
              <dt>{kind}</dt>
              <dd class="code-line">{columns[kind]}</dd>
            </div>
          ))}
        </dl>
      </details>
      <label class="button file-button">
        <span>Choose files</span>
        <input type="file" class="unseen" multiple accept=".csv,text/csv" onChange={(event) => void choose(event.currentTarget.files)} />
      </label>
      <Chosen files={files} change={change} />
      <Refused said={trying.said ?? bringing.said} />
      {files.length > 0 && (
        <div class="answers">
          <button type="button" class={check?.can_apply ? undefined : "main"} disabled={trying.busy} onClick={() => void try_out(accept)}>
            {trying.busy ? "Trying…" : check ? "Try it again" : "Try it: nothing is stored"}
          </button>
          {check?.can_apply && (
            <button type="button" class="main" disabled={bringing.busy} onClick={() => void bring()}>
              {bringing.busy ? "Bringing it in…" : `Bring in ${what_words(check.would)}`}
            </button>
          )}
        </div>
      )}
      {(trying.busy || bringing.busy) && <progress aria-label="Working" />}
      {check && <Found check={check} files={files} accept={accept} set_accept={agree} />}
    </section>
  );
}
