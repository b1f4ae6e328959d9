// SPDX-License-Identifier: MIT
// Phones of the home and what belongs to them, in one file of their own.
import "../first_view";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import { InviteForm } from "./invite_screen";
import { PhonesScreen } from "./phones_screen";
import { SealedCodeScreen } from "./sealed_code_screen";
import { SignOutScreen } from "./sign_out_screen";
import { tell } from "../words/catalogue/access";

const phone_roles = [
  { value: "household", words: tell("phone_screens.the_home"), hint: tell("phone_screens.reads_and_records_everything_and_invites") },
  { value: "guest", words: tell("phone_screens.a_guest"), hint: tell("phone_screens.reads_and_records_in_set_hours") },
] as const;

function InviteScreen({ desk, done }: FormProps) {
  return (
    <Screen title={tell("phone_screens.invite_another_phone")} back={done}>
      <InviteForm roles={phone_roles} household={desk.name} zone={context_of(desk).zone} done={done} />
    </Screen>
  );
}

export const screens = { phones: PhonesScreen, invite: InviteScreen, sealed_code: SealedCodeScreen, sign_out: SignOutScreen };
