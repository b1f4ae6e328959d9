// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/cell/fit.hpp"
#include "model/review/measured_unit.hpp"
#include "server/json/field.hpp"
#include "server/service/libraries.hpp"
#include "server/service/profile_journal.hpp"

/// What somebody proposes as a profile, read and tried: a pasted table of published figures becomes a cell,
/// measurements on the bench become a unit or a model of unit, and steps for handling a unit are taken as text.
namespace cellarer::service {

/// What is wrong with it, told at the place: a JSON pointer, and of a pasted table its line and column (from 1; 0: the
/// whole of it).
struct ProposalProblem {
  std::string place;
  std::optional<int> line, column;
  std::string reason;
};

struct ReadProposal {
  Proposal::Kind kind = Proposal::Kind::cell;
  std::string subject;
  nlohmann::json document;  ///< the profile's file; null where there are problems
  std::vector<ProposalProblem> problems;
  std::optional<cell::PublishedCell> cell;     ///< of a cell, where it could be read
  std::optional<cell::FitSummary> fit;         ///< of that
  std::vector<int> lines;                      ///< of the table, one a discharge
  std::optional<duty::Stimulator> stimulator;  ///< of a unit or a model of unit
  std::vector<review::Residual> residuals;     ///< of its currents
  std::size_t gauge_points = 0;                ///< that were measured of it
  std::optional<Instant> measured_at;          ///< of measurements: when

  bool usable() const { return problems.empty() && (!fit || fit->usable); }
};

/// `model_of_unit`: the profile of that serial as the homes recorded it, empty for none; the body may name another.
/// Throws `json::Refused` where the form is broken; what is in the figures themselves are problems.
ReadProposal read_proposal(const json::Field& body, const Libraries& libraries, const std::string& model_of_unit);

/// A profile as its file holds it (data/schema/stimulator.schema.json).
nlohmann::json stimulator_file(const duty::Stimulator& stimulator);

}  // namespace cellarer::service
