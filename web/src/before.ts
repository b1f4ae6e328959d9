// SPDX-License-Identifier: MIT
// What is needed before the language is known, and by all that comes after, in one file: the first view, and each language,
// import this too (see first_view.ts for why that matters). A phone asks for six files at once and no more.
export { ask_for_household, household_at } from "./api/ahead";
export { wall_time } from "./time/zone";
export { choose_language } from "./words/language";
export { calendar_words } from "./words/days";
export { teller } from "./words/tell";
