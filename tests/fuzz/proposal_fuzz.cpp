// SPDX-License-Identifier: MIT
// What a technician proposes: a pasted table, measurements of a unit or of a model, steps for handling one. What was
// taken stands in the agency's journal, and is read with it for ever after.
#include "model/cell/fit.hpp"
#include "server/profiles/cell_file.hpp"
#include "server/profiles/stimulator_file.hpp"
#include "server/service/bench_journal.hpp"
#include "server/service/read_proposal.hpp"
#include "tests/fuzz/fuzz.hpp"
#include "tests/support/fake_libraries.hpp"

/// In place of the fit, which reads nothing: it would take a hundred times as long as all the rest.
namespace cellarer::cell {
FitSummary fit(const PublishedCell&, const FitOptions&) {
  FitSummary summary;
  summary.usable = true;
  return summary;
}
}  // namespace cellarer::cell

using namespace cellarer;

namespace {

const Instant now{std::chrono::seconds(1'772'000'000)};  // February 2026

void stays_readable(const service::ReadProposal& read, nlohmann::json body) {
  body["document"] = read.document;
  body["who"] = "Bench";
  const auto subject = std::string(service::proposal_kinds[static_cast<int>(read.kind)]) + "/" + read.subject;
  const std::vector<store::StoredAgencyEntry> entries{
      {1, service::agency_kind::profile_proposal, subject, now, "technician", body.dump()}};
  try {
    fuzz::must(service::read_proposals(entries).front().subject == read.subject);
    service::read_bench_journal(entries);
    const json::Field document(read.document, "");
    if (read.cell) read_cell(document);
    if (!read.stimulator) return;
    auto again = service::stimulator_file(read_stimulator(document));
    if (read.document.contains("source")) again["source"] = read.document["source"];
    fuzz::must(again == read.document);
  } catch (const json::Refused&) {
    fuzz::must(false);
  }
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const testing::FakeLibraries libraries;
  try {
    const auto body = json::parse(fuzz::as_text(data, size));
    const auto read = service::read_proposal(json::Field(body, ""), libraries, "three-cells");
    for (const auto& problem : read.problems) fuzz::must(!problem.place.empty() && !problem.reason.empty());
    if (read.usable()) stays_readable(read, body);
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  }
  return 0;
}
