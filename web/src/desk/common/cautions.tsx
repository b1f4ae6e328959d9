// SPDX-License-Identifier: MIT
// The estimate's sentence stands at the foot of every page of the desk; what it does not know is one tap away.
import { disclaimer, more, reminders } from "../../words/cautions";

export function Cautions() {
  return <a href="#desk/cautions">What a forecast does not know</a>;
}

export function CautionsPage() {
  return (
    <>
      <h1 tabIndex={-1}>What a forecast does not know</h1>
      <p class="strong">{disclaimer}</p>
      <ul class="cautions">
        {[...more, reminders, "A home that has not counted for a while may have less than stands here. Ask.", "Only what was received or counted is taken as stock in a home."].map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
    </>
  );
}
