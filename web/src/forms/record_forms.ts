// SPDX-License-Identifier: MIT
// The forms that people come for, in one file of their own.
import "../first_view";
import { AwayForm } from "./away_form";
import { ChangeForm } from "./change_form";
import { ReadingForm } from "./reading_form";
import { StockForm } from "./stock_form";
import { WarnedForm } from "./warned_form";

export const screens = { change: ChangeForm, reading: ReadingForm, warned: WarnedForm, stock: StockForm, away: AwayForm };
