// SPDX-License-Identifier: MIT
#include "server/api/profile_documents.hpp"

#include <cmath>

#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/profiles/stimulator_file.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::Proposal;
using service::ReadProposal;

namespace {

std::string counted(std::size_t number, const std::string& what) {
  return std::to_string(number) + ' ' + what + (number == 1 ? "" : "s");
}

double tenth_percent(double relative) { return std::round(1000 * relative) / 10; }

nlohmann::json problems_document(const ReadProposal& read) {
  auto all = nlohmann::json::array();
  for (const auto& problem : read.problems) {
    nlohmann::json document{
        {"line", nullptr}, {"column", nullptr}, {"place", problem.place}, {"reason", problem.reason}};
    // Nought: of the table as a whole, of the line as a whole.
    if (problem.line.value_or(0) > 0) document["line"] = *problem.line;
    if (problem.column.value_or(0) > 0) document["column"] = *problem.column;
    all.push_back(std::move(document));
  }
  return all;
}

std::string load_text(const cell::Load& load) {
  static const char* units[] = {" mA", " ohm", " mW"};
  return json::three_digits(load.value) + units[static_cast<int>(load.kind)];
}

nlohmann::json discharges_document(const ReadProposal& read) {
  auto all = nlohmann::json::array();
  if (!read.cell) return all;
  for (std::size_t i = 0; i < read.cell->discharges.size(); ++i) {
    const auto& row = read.cell->discharges[i];
    nlohmann::json document = read.document.is_object() ? read.document["discharges"][i] : nlohmann::json::object();
    document["line"] = i < read.lines.size() ? nlohmann::json(read.lines[i]) : nlohmann::json();
    document["load"] = load_text(row.load);
    document["temperature_C"] = row.temperature_C;
    all.push_back(std::move(document));
  }
  return all;
}

/// "ln capacity [mAh]": the quantity, in its unit.
nlohmann::json parameters_document(const cell::FitSummary& fit) {
  auto all = nlohmann::json::array();
  for (int i = 0; i < cell::parameter_count; ++i) {
    std::string name = cell::name_of_parameter(i), unit;
    const bool is_log = name.starts_with("ln ");
    if (is_log) name.erase(0, 3);
    if (const auto bracket = name.find(" ["); bracket != std::string::npos) {
      unit = name.substr(bracket + 2, name.find(']') - bracket - 2);
      name.erase(bracket);
    }
    const double error = std::sqrt(fit.covariance(i, i)), value = fit.parameters[i];
    all.push_back({{"name", name},
                   {"value", is_log ? std::exp(value) : value},
                   {"standard_error", is_log ? std::exp(value) * error : error},
                   {"unit", unit}});
  }
  return all;
}

nlohmann::json fit_document(const ReadProposal& read) {
  if (!read.fit) return nullptr;
  const auto& fit = *read.fit;
  auto why = nlohmann::json::array();
  if (!fit.usable) why.push_back(fit.why_not);
  for (const auto& caution : fit.cautions) why.push_back(caution);
  double error = 0;
  for (const auto& point : fit.points) error += std::abs(std::expm1(point.log_residual));
  return {{"usable", fit.usable},
          {"reasons", std::move(why)},
          {"parameters", parameters_document(fit)},
          {"range_text", json::three_digits(fit.range.lowest_mA) + " to " + json::three_digits(fit.range.highest_mA) +
                             " mA, to cut-offs of " + json::three_digits(fit.range.lowest_cutoff_V) + " to " +
                             json::three_digits(fit.range.highest_cutoff_V) + " V"},
          {"mean_error_percent", fit.points.empty()
                                     ? nlohmann::json()
                                     : nlohmann::json(tenth_percent(error / static_cast<double>(fit.points.size())))}};
}

nlohmann::json residual(const std::string& what, double published, double fitted, const char* unit,
                        nlohmann::json line) {
  const double error = published != 0 ? tenth_percent(fitted / published - 1) : 0;
  return {
      {"line", std::move(line)},
      {"what", what},
      {"published", published},
      {"fitted", fitted},
      {"error_percent", error},
      {"text", what + ": " + json::three_digits(published) + unit + ", the profile says " + json::three_digits(fitted) +
                   unit + " (" + (error > 0 ? "+" : "") + json::three_digits(error) + " %)."}};
}

nlohmann::json residuals_document(const ReadProposal& read) {
  auto all = nlohmann::json::array();
  for (const auto& one : read.residuals) all.push_back(residual(one.what, one.measured, one.fitted, " mA", nullptr));
  if (!read.fit || !read.cell) return all;
  for (std::size_t i = 0; i < read.fit->points.size(); ++i) {
    const auto& row = read.cell->discharges[i];
    const auto& point = read.fit->points[i];
    all.push_back(residual(load_text(row.load) + " to " + json::three_digits(row.cutoff_V) + " V", point.published,
                           point.fitted, row.hours ? " h" : " mAh",
                           i < read.lines.size() ? nlohmann::json(read.lines[i]) : nlohmann::json()));
  }
  return all;
}

std::string measured_text(const ReadProposal& read) {
  const auto currents = counted(read.residuals.size(), "measured current");
  const auto points = counted(read.gauge_points, "point") + " of the gauge";
  if (read.gauge_points == 0) return currents;
  return read.residuals.empty() ? points : currents + " and " + points;
}

std::string tried_text(const ReadProposal& read) {
  if (!read.problems.empty()) return counted(read.problems.size(), "thing") + " to mend before it can be proposed.";
  if (read.fit && !read.fit->usable) return "The fit is not usable: " + read.fit->why_not;
  if (read.fit) return "Fitted to " + counted(read.fit->points.size(), "discharge") + ".";
  if (read.stimulator) return "Made of " + measured_text(read) + ".";
  return "Steps as text, shown once a second technician approves them.";
}

std::string subject_text(const Proposal& proposal) {
  static const char* words[] = {"Cell ", "Unit ", "Model of unit ", "Steps for handling "};
  return words[static_cast<int>(proposal.kind)] + proposal.subject;
}

std::string state_text(const Proposal& proposal) {
  if (proposal.state == Proposal::State::waiting) return ", waits for a second person.";
  const std::string reason = proposal.reason.empty() ? "." : ": " + proposal.reason;
  if (proposal.state == Proposal::State::refused) return ", refused" + reason;
  return ", version " + std::to_string(*proposal.version) + " in force since " +
         date::format("%F", *proposal.decided_at) + reason;
}

std::string move_text(const service::ProfileMove& move) {
  const auto when = [&](const std::optional<Instant>& at) {
    return at ? rfc3339(*at, move.zone).substr(0, 10) : std::string("no date");
  };
  std::string text = move.household + ", " + name_of(move.side) + ": change by " + when(move.after) + " instead of " +
                     when(move.before);
  return text + (move.later ? ". It stays as it is until these cells are changed." : ".");
}

}  // namespace

nlohmann::json tried_document(const ReadProposal& read) {
  return {{"problems", problems_document(read)},     {"usable", read.usable()},
          {"discharges", discharges_document(read)}, {"fit", fit_document(read)},
          {"residuals", residuals_document(read)},   {"text", tried_text(read)}};
}

nlohmann::json proposal_line(const Proposal& proposal, const std::string& account) {
  const bool mine = proposal.account == account;
  nlohmann::json document{
      {"number", proposal.number},
      {"kind", service::proposal_kinds[static_cast<int>(proposal.kind)]},
      {"subject", proposal.subject},
      {"state", service::proposal_states[static_cast<int>(proposal.state)]},
      {"version", proposal.version ? nlohmann::json(*proposal.version) : nlohmann::json()},
      {"proposed_at", rfc3339(proposal.proposed_at, nullptr)},
      {"proposed_by_you", mine},
      {"proposer", json::text_or_null(proposal.who)},
      {"may_decide", !mine && proposal.state == Proposal::State::waiting},
      {"decided_at", proposal.decided_at ? nlohmann::json(rfc3339(*proposal.decided_at, nullptr)) : nlohmann::json()},
      {"decider", json::text_or_null(proposal.decider)},
      {"reason", json::text_or_null(proposal.reason)}};
  document["text"] = subject_text(proposal) + state_text(proposal);
  return document;
}

nlohmann::json effects_document(const service::ProfileEffects& effects) {
  auto moves = nlohmann::json::array();
  std::size_t later = 0;
  for (const auto& move : effects.moves) {
    later += move.later ? 1 : 0;
    nlohmann::json document{{"household", move.household}, {"side", name_of(move.side)}, {"change_by_before", nullptr},
                            {"change_by_after", nullptr},  {"later", move.later},        {"text", move_text(move)}};
    if (move.before) document["change_by_before"] = rfc3339(*move.before, move.zone);
    if (move.after) document["change_by_after"] = rfc3339(*move.after, move.zone);
    moves.push_back(std::move(document));
  }
  std::string text = "It is being worked out whose dates it would move.";
  if (effects.done) {
    text = effects.of == 0 ? "No home has it in use."
                           : "It touches " + counted(effects.of, "home") + " and would move the date of " +
                                 counted(moves.size(), "side") + ".";
    if (later > 0)
      text += " It would make " + counted(later, "running forecast") +
              " later: those sides keep their date until their next change.";
  }
  return {{"state", effects.done ? "done" : "computing"},
          {"looked_at", effects.looked_at},
          {"of", effects.of},
          {"moves", std::move(moves)},
          {"text", text}};
}

nlohmann::json versions_document(const service::AgencyProfiles& profiles) {
  auto all = nlohmann::json::array();
  for (auto version = profiles.versions.rbegin(); version != profiles.versions.rend(); ++version) {
    for (const auto& proposal : profiles.proposals) {
      if (proposal.number != version->number) continue;
      const bool in_force = profiles.in_force(version->kind, version->subject, Instant::max()) == &*version;
      all.push_back({{"kind", service::proposal_kinds[static_cast<int>(version->kind)]},
                     {"subject", version->subject},
                     {"version", proposal.version ? nlohmann::json(*proposal.version) : nlohmann::json()},
                     {"number", version->number},
                     {"approved_at", rfc3339(version->approved_at, nullptr)},
                     {"proposer", json::text_or_null(proposal.who)},
                     {"decider", json::text_or_null(proposal.decider)},
                     {"in_force", in_force},
                     {"text", subject_text(proposal) + state_text(proposal)}});
    }
  }
  return {{"versions", std::move(all)}};
}

nlohmann::json handling_document(const service::Libraries& libraries, const std::string& stimulator) {
  nlohmann::json document{
      {"approved", false}, {"steps", nlohmann::json::array()}, {"source", nullptr}, {"date", nullptr}};
  document["text"] = Handling{}.shown().front();
  const auto profile = stimulator.empty() ? std::nullopt : libraries.stimulator_document(stimulator);
  if (!profile || !profile->contains("handling")) return document;
  const auto& handling = (*profile)["handling"];
  if (!handling.contains("source")) return document;
  document["approved"] = true;
  document["steps"] = handling.value("shown", nlohmann::json::array());
  document["source"] = handling.value("source", nlohmann::json());
  document["date"] = handling.value("date", nlohmann::json());
  document["text"] = "Steps approved by a technician, from " + handling.value("source", "") + ".";
  return document;
}

}  // namespace cellarer::api
