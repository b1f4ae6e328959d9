// SPDX-License-Identifier: MIT
// How long the main thread works for a text typed in the desk's search, from the letter to the list as it is painted.
// Counted is the thread's own time. Slowing down is done by stopping the thread again and again, which on a busy machine
// lasts longer than it should; the time at full speed, as many times over, hardly depends on what else the machine does.

export const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

export const told = (times) => `${median(times).toFixed(0)} ms in the middle, ${Math.max(...times).toFixed(0)} ms at most, of ${times.length}`;

/// The same at full speed, `slower` times over.
export async function reckoned_ms(context, page, { slower, ...what }) {
  return (await typing_ms(context, page, { ...what, slower: 1 })).map((ms) => ms * slower);
}

/// Milliseconds for each of `typed`; the first search, `before`, is not counted.
export async function typing_ms(context, page, { typed, before, slower }) {
  const devtools = await context.newCDPSession(page);
  await devtools.send("Performance.enable", { timeDomain: "threadTicks" });
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: slower });
  const worked_ms = async () => (await devtools.send("Performance.getMetrics")).metrics.find((one) => one.name === "TaskDuration").value * 1_000;
  const search = (text) =>
    page.evaluate(async (value) => {
      const field = document.querySelector(".search input");
      field.value = value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
    }, text);
  await search("");
  await search(before);
  const times = [];
  for (const text of typed) {
    const worked_before = await worked_ms();
    await search(text);
    times.push((await worked_ms()) - worked_before);
  }
  return times;
}
