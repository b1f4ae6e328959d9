// SPDX-License-Identifier: MIT
// The technician's bench: why does this side use more than it should? Every page of it, and which stands where.
import "../first_view";
import type { ComponentType } from "preact";
import { Pages } from "../staff/frame";
import type { SectionProps } from "../staff/sections";
import { wear } from "../staff/sheet";
import style from "./bench.css";
import { CellForm } from "./cell_form";
import { FindingPage } from "./finding_page";
import { FindingsPage } from "./findings_page";
import { LotsPage } from "./lots_page";
import { MeasureForm } from "./measure_form";
import { ProfilesPage } from "./profiles_page";
import { ProposalPage } from "./proposal_page";
import { SidePage } from "./side_page";
import { SidesPage } from "./sides_page";
import { StepsForm } from "./steps_form";
import { UnitPage } from "./unit_page";
import { UnitsPage } from "./units_page";
import { WearPage } from "./wear_page";
import { tell } from "../words/catalogue/bench";

const pages = [
  { page: "", words: tell("bench.findings") },
  { page: "sides", words: tell("bench.sides") },
  { page: "units", words: tell("bench.units") },
  { page: "lots", words: tell("bench.lots_in_use") },
  { page: "wear", words: tell("bench.worn_parts") },
  { page: "profiles", words: tell("bench.profiles") },
] as const;

/// Each page, and the entry of the list it stands below.
const shown: Record<string, { below: string; Page: ComponentType<{ given: Record<string, string> }> }> = {
  "": { below: "", Page: FindingsPage },
  finding: { below: "", Page: FindingPage },
  sides: { below: "sides", Page: SidesPage },
  side: { below: "sides", Page: SidePage },
  units: { below: "units", Page: UnitsPage },
  unit: { below: "units", Page: UnitPage },
  lots: { below: "lots", Page: LotsPage },
  wear: { below: "wear", Page: WearPage },
  profiles: { below: "profiles", Page: ProfilesPage },
  proposal: { below: "profiles", Page: ProposalPage },
  cell: { below: "profiles", Page: CellForm },
  measure: { below: "profiles", Page: MeasureForm },
  steps: { below: "profiles", Page: StepsForm },
};

wear(style);

export function Bench({ page, given }: SectionProps) {
  const { below, Page } = shown[page] ?? { below: "", Page: FindingsPage };
  const which = [page, given["id"], given["household"], given["side"], given["serial"], given["number"], given["kind"]].join(" ");
  return (
    <Pages section="bench" words={tell("bench.pages_of_the_bench")} pages={pages} here={below}>
      <Page key={which} given={given} />
    </Pages>
  );
}
