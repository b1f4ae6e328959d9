// SPDX-License-Identifier: MIT
// What is planned, and its forms, in one file of their own.
import "../first_view";
import { Plans } from "../pages/plans";
import { BackHomeForm } from "./back_home_form";
import { CompareForm } from "./compare_form";
import { EndForm } from "./end_form";
import { HospitalForm } from "./hospital_form";
import { LessForm } from "./less_form";
import { NoDeliveriesForm } from "./no_deliveries_form";
import { PacedMoreForm } from "./paced_more_form";
import { SettingsForm } from "./settings_form";
import { UnitForm } from "./unit_form";
import { VisitForm } from "./visit_form";

export const screens = {
  plans: Plans, paced_more: PacedMoreForm, less: LessForm, no_deliveries: NoDeliveriesForm, settings: SettingsForm, visit: VisitForm, hospital: HospitalForm, back_home: BackHomeForm, unit: UnitForm,
  end: EndForm, compare: CompareForm,
};
