// SPDX-License-Identifier: MIT
// Every problem of an import by file, line and column, with the line it is in.
import { count_of } from "../common/words";
import type { ImportProblem } from "../lot_types";
import type { ImportFile } from "./files";

/// The line, with what is wrong in it marked where it can be found.
function Line({ text, value }: { text: string; value: string }) {
  const at = value ? text.indexOf(value) : -1;
  if (at < 0) return <code>{text}</code>;
  return (
    <code>
      {text.slice(0, at)}
      <mark>{value}</mark>
      {text.slice(at + value.length)}
    </code>
  );
}

export function Problems({ problems, more, files }: { problems: readonly ImportProblem[]; more: number; files: readonly ImportFile[] }) {
  if (!problems.length) return null;
  return (
    <>
      <table class="numbers problems">
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col">Column</th>
            <th scope="col">What is wrong</th>
          </tr>
        </thead>
        <tbody>
          {problems.map((one, index) => (
            <tr key={index}>
              <th scope="row">
                {one.line || "all"}
                <small>{one.file}</small>
              </th>
              <td>
                {one.column || "all"}
                <small>{one.column_name}</small>
              </td>
              <td>
                {one.severity === "ask" && "Asked: "}
                {one.text}
                {one.line > 0 && <Line text={files.find((file) => file.name === one.file)?.lines[one.line - 1] ?? ""} value={one.value} />}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {more > 0 && <p>{`And ${count_of(more, "problem")} more.`}</p>}
    </>
  );
}
