// SPDX-License-Identifier: MIT
// A style file that a page's source imports comes as its text (web/build.mjs).
declare module "*.css" {
  const text: string;
  export default text;
}
