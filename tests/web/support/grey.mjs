// SPDX-License-Identifier: MIT
// The windows of the nights strip at 24 px as grey pixels, so that a test can tell whether they differ.

/// Every kind of window once, at 24 px: three states, two sides, tonight or not. The page's own drawing is used:
/// what the strip lacks is made of what it has by its class names.
async function lay_out(page) {
  await page.evaluate(() => {
    const kinds = { expected: null, doubtful: null, not_expected: null };
    const found = { left: { ...kinds }, right: { ...kinds } };
    for (const side of ["left", "right"]) {
      for (const state of Object.keys(kinds)) found[side][state] = document.querySelector(`[data-side=${side}] .window.${state}`);
    }
    const shelf = document.createElement("div");
    shelf.id = "shelf";
    for (const [side, states] of Object.entries(found)) {
      for (const state of Object.keys(states)) {
        for (const tonight of [false, true]) {
          const own = states[state];
          const one = (own ?? found[side === "left" ? "right" : "left"][state]).cloneNode(true);
          one.classList.toggle("tonight", tonight);
          one.dataset.name = `${side} ${state}${tonight ? " tonight" : ""}`;
          one.style.cssText = `width: 24px; height: 28px; margin: 0; overflow: hidden; transform: ${own ? "none" : "scaleX(-1)"}`;
          const frame = document.createElement("div");
          frame.style.cssText = "width: 24px; height: 28px; background: var(--card)";
          frame.append(one);
          shelf.append(frame);
        }
      }
    }
    document.body.prepend(shelf);
  });
}

export async function grey_pictures(page, browser) {
  await lay_out(page);
  const pictures = [];
  const darkroom = await browser.newPage();
  for (const window of await page.locator("#shelf .window").all()) {
    const png = (await window.screenshot()).toString("base64");
    const grey = await darkroom.evaluate(async (data) => {
      const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
      const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
      const canvas = new OffscreenCanvas(24, 28);
      const ink = canvas.getContext("2d");
      ink.drawImage(image, 0, 0, 24, 28);
      const { data: pixels } = ink.getImageData(0, 0, 24, 28);
      return Array.from({ length: 24 * 28 }, (_, at) => (0.2126 * pixels[4 * at] + 0.7152 * pixels[4 * at + 1] + 0.0722 * pixels[4 * at + 2]) / 255);
    }, png);
    pictures.push({ name: await window.getAttribute("data-name"), grey });
  }
  await darkroom.close();
  return pictures;
}

/// Mean difference of grey, from 0 (the same) to 1 (black against white).
export function difference(a, b) {
  return a.grey.reduce((sum, value, at) => sum + Math.abs(value - b.grey[at]), 0) / a.grey.length;
}
