// SPDX-License-Identifier: MIT
#include "server/api/lot_routes.hpp"

#include "server/api/lot_handlers.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using enum access::Permission;

Route looks(const char* path, const char* name, const char* summary, Handler handler, const char* gives,
            std::vector<const char*> query = {}, std::vector<ProblemCode> problems = {}) {
  return {"GET",   path,    name,  summary, read_lots,        Runs::compute,      handler,
          nullptr, nullptr, gives, 200,     std::move(query), std::move(problems)};
}

Route says(const char* path, const char* name, const char* summary, Handler handler, const char* takes,
           const char* gives, std::vector<ProblemCode> problems) {
  return {"POST",  path,  name,  summary, manage_lots, Runs::write,        handler,
          nullptr, takes, gives, 201,     {},          std::move(problems)};
}

}  // namespace

std::vector<Route> lot_routes() {
  std::vector<Route> all{
      looks("/lots", "lots", "Every lot that a home or the agency's store has or had, recalled ones first", get_lots,
            "Lots"),
      looks("/lots/one", "lot", "One lot: where it is, who used it, how it did", get_lot, "Lot", {"lot", "item"},
            {unknown_lot}),
      looks("/lots/one.csv", "lotLines", "The same as lines", get_lot_lines, "Csv", {"lot", "item"}, {unknown_lot}),
      says("/lots/recalls", "recallLot",
           "Calls a lot back: not usable, in no plan, to be changed where it is in a side", post_recall, "NewRecall",
           "RecallAnswer", {already_recalled}),
      says("/lots/recalls/undo", "undoRecall", "Takes a recall back", post_recall_undo, "NewRecall", "RecallAnswer",
           {not_recalled}),
      looks("/lots/recalls/calls", "recallCalls", "Whom to call about a lot, in what order, and who was",
            get_recall_calls, "RecallCalls", {"lot", "item"}, {unknown_lot}),
      looks("/lots/recalls/calls.csv", "recallCallLines", "The same as lines", get_recall_call_lines, "Csv",
            {"lot", "item"}, {unknown_lot}),
      says("/households/{household}/recall-calls", "recordRecallCall", "This home was told that a lot is recalled",
           post_recall_call, "RecallCall", "Recorded", {unknown_household}),
      says("/lots/corrections", "correctLot",
           "A number was written wrongly: all its uses, before and after, are of another lot", post_lot_correction,
           "NewCorrection", "CorrectionAnswer", {}),
      looks("/lots/corrections", "lotCorrections", "Numbers that were corrected", get_lot_corrections, "Corrections"),
  };
  return all;
}

}  // namespace cellarer::api
