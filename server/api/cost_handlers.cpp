// SPDX-License-Identifier: MIT
// Waste, and what a limit of risk costs in sets a year.
#include "server/api/cost_handlers.hpp"

#include <algorithm>
#include <cmath>

#include "server/api/left_out.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/waste.hpp"

namespace cellarer::api {

using service::NamedWaste;

namespace {

/// A request works no longer than this; who asked comes back.
constexpr std::chrono::milliseconds at_a_time{2500};
constexpr int default_months = 6, most_months = 36;
constexpr std::size_t most_named = 20;

service::WasteBook& waste_book() {
  static service::WasteBook book;
  return book;
}

std::string text_of(Instant at) { return cellarer::json::rfc3339(at, nullptr); }
double rounded(double value, double to) { return std::round(value / to) * to; }

int asked_months(const Request& request) {
  const auto found = request.query.find("months");
  if (found == request.query.end()) return default_months;
  const bool digits =
      !found->second.empty() && found->second.size() <= 2 &&
      std::all_of(found->second.begin(), found->second.end(), [](char c) { return c >= '0' && c <= '9'; });
  const int months = digits ? std::stoi(found->second) : 0;
  if (months < 1 || months > most_months)
    throw cellarer::json::Refused("out-of-range", "?months", "expected a number of months from 1 to 36");
  return months;
}

/// Midnight (UTC) that many months ago: the same through the day.
Instant months_ago(Instant now, int months) {
  const date::year_month_day today(date::floor<date::days>(now));
  auto day = today - date::months(months);
  if (!day.ok()) day = day.year() / day.month() / date::last;
  return date::sys_days(day);
}

/// Sums over sets; the range is as if all sets erred alike, so it is rather too wide than too narrow.
struct Sum {
  int sets = 0;
  double p05 = 0, p50 = 0, p95 = 0, cells05 = 0, cells50 = 0, cells95 = 0;

  void add(const review::ChargeLeft& set) {
    ++sets;
    p05 += set.share.p05;
    p50 += set.share.p50;
    p95 += set.share.p95;
    cells05 += set.share.p05 * set.cells;
    cells50 += set.share.p50 * set.cells;
    cells95 += set.share.p95 * set.cells;
  }
  nlohmann::json share() const {
    if (sets == 0) return nullptr;
    const auto mean = [&](double sum) { return rounded(sum / sets, 0.001); };
    return {{"p05", mean(p05)}, {"p50", mean(p50)}, {"p95", mean(p95)}};
  }
  nlohmann::json cells() const {
    return {{"p05", rounded(cells05, 0.1)}, {"p50", rounded(cells50, 0.1)}, {"p95", rounded(cells95, 0.1)}};
  }
};

nlohmann::json computing(Instant now, std::size_t done, std::size_t of) {
  return {{"as_of", text_of(now)}, {"computing", true}, {"done", done}, {"of", of}};
}

Response come_back(const nlohmann::json& document) {
  auto response = json_response(document, 202);
  response.set("Retry-After", "1");
  return response;
}

std::string percent(double share) { return std::to_string(static_cast<int>(std::lround(100 * share))) + " %"; }

nlohmann::json most_wasting(const std::vector<NamedWaste>& homes) {
  std::vector<std::pair<const NamedWaste*, Sum>> all;
  for (const NamedWaste& home : homes) {
    Sum sum;
    for (const auto& set : home.waste->left.sets) sum.add(set);
    if (sum.sets >= 3) all.emplace_back(&home, sum);
  }
  const auto mean = [](const Sum& sum) { return sum.p50 / sum.sets; };
  std::stable_sort(all.begin(), all.end(),
                   [&](const auto& a, const auto& b) { return mean(a.second) > mean(b.second); });
  auto rows = nlohmann::json::array();
  for (const auto& [home, sum] : all) {
    if (rows.size() == most_named) break;
    rows.push_back({{"household", reference_of(home->household)},
                    {"area", home->area ? nlohmann::json(*home->area) : nlohmann::json()},
                    {"sets", sum.sets},
                    {"share", sum.share()}});
  }
  return rows;
}

nlohmann::json waste_document(const std::vector<NamedWaste>& homes, const service::StoreWaste& store, Instant since,
                              Instant now) {
  Sum all;
  int cells = 0, unknown = 0, early = 0;
  std::int64_t expired = 0, discarded = 0;
  std::map<std::string, Sum> months;
  for (const NamedWaste& home : homes) {
    for (const auto& set : home.waste->left.sets) {
      all.add(set);
      cells += set.cells;
      early += set.share.p50 > 0 ? 1 : 0;
      months[date::format("%Y-%m", set.to)].add(set);
    }
    unknown += home.waste->left.unknown;
    cells += home.waste->left.unknown_cells;  // used all the same
    expired += home.waste->expired_cells;
    discarded += home.waste->discarded_cells;
  }
  auto by_month = nlohmann::json::array();
  for (const auto& [month, sum] : months)
    by_month.push_back({{"month", month}, {"sets", sum.sets}, {"share", sum.share()}});
  std::string sentence = "No set has come out since then.";
  if (all.sets > 0) {
    sentence = "Sets that came out had about " + percent(all.p50 / all.sets) + " of their charge left (" +
               percent(all.p05 / all.sets) + " to " + percent(all.p95 / all.sets) + ").";
  }
  return {{"as_of", text_of(now)},
          {"from", text_of(since)},
          {"to", text_of(now)},
          {"households", homes.size()},
          {"sets", all.sets + unknown},
          {"cells_used", cells},
          {"thrown_away", {{"sets", early}, {"share", all.share()}, {"cells_worth", all.cells()}}},
          {"expired_cells", expired},
          {"discarded_cells", discarded},
          {"store", {{"expired_cells", store.expired_cells}, {"discarded_cells", store.discarded_cells}}},
          {"unknown_sets", unknown},
          {"by_month", by_month},
          {"most", most_wasting(homes)},
          {"sentence", sentence},
          {"limit",
           "Expected from what was known of each set; the range is as if all erred alike. A changing time once a day "
           "makes about half a day of it unavoidable. Not for households: in doubt they should change early."}};
}

}  // namespace

Response get_waste(const Context& context, const Request& request, const Parts&) {
  const Instant now = context.households.clock().now();
  const Instant since = months_ago(now, asked_months(request));
  const auto answer = waste_book().of(context.households, request.principal->agency, since, at_a_time);
  if (!answer.complete()) return come_back(computing(now, answer.homes.size(), answer.of));
  const auto& agency = request.principal->agency;
  const auto store = service::store_waste(*context.households.journal().of(agency),
                                          *context.households.lots_of_agency(agency), since, now);
  auto document = waste_document(answer.homes, store, since, now);
  document["left_out"] = left_out(context, request);
  return json_response(document);
}

Response get_risk_curve(const Context& context, const Request& request, const Parts&) {
  const Instant now = context.households.clock().now();
  const auto end = std::chrono::steady_clock::now() + at_a_time;
  std::vector<stock::FreshLife> sides;
  std::size_t done = 0, of = 0, telling = 0;
  context.households.for_each_of(request.principal->agency, [&](const std::string& household) {
    if (context.households.snapshot(household)->record.closed_since) return;  // it uses none
    auto kept = context.forecasts.ready(household);
    if (!kept && std::chrono::steady_clock::now() <= end) kept = context.forecasts.get(household);
    ++of;
    if (!kept) return;
    ++done;
    telling += kept->fresh_lives.empty() ? 0 : 1;
    sides.insert(sides.end(), kept->fresh_lives.begin(), kept->fresh_lives.end());
  });
  if (done < of) return come_back(computing(now, done, of));
  auto points = nlohmann::json::array();
  for (const int times : {1, 2, 3}) {
    for (const double limit : {1e-6, 2e-6, 5e-6, 1e-5, 2e-5, 5e-5, 1e-4, 2e-4, 5e-4, 1e-3}) {
      const auto point = stock::curve_point(sides, times, limit);
      points.push_back({{"changing_times", times},
                        {"risk_limit", limit},
                        {"sets_a_year",
                         {{"p05", rounded(point.sets_a_year_p05, 1)},
                          {"p50", rounded(point.sets_a_year_p50, 1)},
                          {"p95", rounded(point.sets_a_year_p95, 1)}}},
                        {"charge_left_share", rounded(point.charge_left_share, 0.001)},
                        {"expected_run_outs_a_year", point.run_outs_a_year}});
    }
  }
  const life::Policy policy;
  const auto usual = stock::curve_point(sides, 1, policy.risk_limit);
  const auto often = stock::curve_point(sides, 2, policy.risk_limit);
  const double fewer = usual.sets_a_year_p50 > 0 ? 1 - often.sets_a_year_p50 / usual.sets_a_year_p50 : 0;
  return json_response(
      {{"as_of", text_of(now)},
       {"households", telling},
       {"sides", sides.size()},
       {"left_out", left_out(context, request)},
       {"now", {{"risk_limit", policy.risk_limit}, {"sets_a_year", rounded(usual.sets_a_year_p50, 1)}}},
       {"points", points},
       {"sentence",
        "A second changing time a day would spare about " + percent(fewer) + " of the sets at the same risk."},
       {"limit",
        "Reckoned for fresh sets before any reading: readings let sets run longer, so fewer are used. Figures below 1 "
        "in "
        "10 000 rest on assumptions about tails."}});
}

}  // namespace cellarer::api
