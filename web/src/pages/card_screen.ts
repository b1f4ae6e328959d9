// SPDX-License-Identifier: MIT
// The card for the fridge, with what draws its square code, in one file of their own.
import "../first_view";
import { Card } from "./card";

export const screens = { card: Card };
