// SPDX-License-Identifier: MIT
// Contrast as WCAG 2.2 defines it (relative luminance of sRGB), of the tokens of the style file.

export function tokens(style, theme) {
  const start = theme === "light" ? ":root {" : ':root[data-theme="dark"] {';
  const block = style.slice(style.indexOf(start)).split("}")[0];
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)].map((match) => [match[1], match[2]]));
}

function luminance(hex) {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const part = parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

export function contrast(a, b) {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}
