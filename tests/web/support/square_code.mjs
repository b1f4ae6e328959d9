// SPDX-License-Identifier: MIT
// Reads a square code off the screen as a phone's camera would: from a picture of it, by another's decoder (jsQR).
import { require_web } from "./browser.mjs";

const jsqr = require_web("jsqr");

export async function picture_of(square, browser) {
  const png = (await square.screenshot({ scale: "css" })).toString("base64");
  const darkroom = await browser.newPage();
  const { pixels, width, height } = await darkroom.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const ink = new OffscreenCanvas(image.width, image.height).getContext("2d");
    ink.drawImage(image, 0, 0);
    const seen = ink.getImageData(0, 0, image.width, image.height).data;
    let pixels = "";  // as text: a list of a million numbers takes a browser seconds to hand over
    for (let at = 0; at < seen.length; at += 8192) pixels += String.fromCharCode(...seen.subarray(at, at + 8192));
    return { pixels: btoa(pixels), width: image.width, height: image.height };
  }, png);
  await darkroom.close();
  return jsqr(Uint8ClampedArray.from(Buffer.from(pixels, "base64")), width, height)?.data ?? null;
}
