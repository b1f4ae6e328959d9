// SPDX-License-Identifier: MIT
// What passes between a home and its agency, in one file of its own.
import "../first_view";
import { DeliveryForm } from "./delivery_form";
import { MessageForm } from "./message_form";

export { AgencyCard } from "../parts/agency_card";
export const screens = { message: MessageForm, delivery: DeliveryForm };
