// SPDX-License-Identifier: MIT
// What is wrong with a field, or with a form as a whole: in words, never by colour alone.
import type { JSX } from "preact";
import { tell } from "../words/catalogue/first";

export function Fault({ error, ...more }: { error: string } & Pick<JSX.HTMLAttributes<HTMLParagraphElement>, "id" | "role">) {
  return (
    <p class="error" {...more}>
      {tell("fields.to_mend", { error })}
    </p>
  );
}
