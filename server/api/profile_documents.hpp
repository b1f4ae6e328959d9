// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/agency_profiles.hpp"
#include "server/service/profile_effects.hpp"
#include "server/service/read_proposal.hpp"

namespace cellarer::api {

/// What was made of a proposal: {problems, usable, discharges, fit, residuals, text}.
nlohmann::json tried_document(const service::ReadProposal& read);

/// A proposal as lists show it. `account`: who reads.
nlohmann::json proposal_line(const service::Proposal& proposal, const std::string& account);

/// Whose `change by` it would move: {state, looked_at, of, moves, text}.
nlohmann::json effects_document(const service::ProfileEffects& effects);

/// Approved versions, newest first.
nlohmann::json versions_document(const service::AgencyProfiles& profiles);

/// What a phone shows of handling the unit in use (DEVELOPERS.md, 9.6): approved steps, or one sentence.
nlohmann::json handling_document(const service::Libraries& libraries, const std::string& stimulator);

}  // namespace cellarer::api
