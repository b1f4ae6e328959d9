// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

#include "server/csv/writer.hpp"
#include "server/service/lot_review.hpp"

/// Lots as they go over the wire.
namespace cellarer::api {

/// A way in by its label; empty where it is gone.
using LabelOf = std::function<std::string(const std::string& account)>;

/// Which homes are to be called about a lot, and in what order: those with it in a side first, then those who have
/// nothing else to put in, then by how much they have and get: what a round has on its way may be put in tomorrow.
/// After them those to which it did not come: it may be at a neighbour's. Who was called since the recall comes last. A
/// home that used it up is not called.
std::vector<const service::LotHome*> calls_in_order(const service::LotStory& story, const service::LotRecall* recall);
bool was_called(const service::LotHome& home, const service::LotRecall* recall);

nlohmann::json recall_document(const service::LotStory& story, const service::LotRecall* recall, const LabelOf& label);
nlohmann::json lot_line_document(const service::LotLine& line, const service::LotFacts& facts);
nlohmann::json lot_document(const service::LotStory& story, const service::LotDid& did);
nlohmann::json calls_document(const service::LotStory& story, const service::LotRecall* recall);

csv::Writer lot_lines(const service::LotStory& story);
csv::Writer call_lines(const service::LotStory& story, const service::LotRecall* recall);

/// "48 in 5 homes, in 3 sides. 24 on the way to 1 home. 12 did not come to 1 home. 96 in the agency's store."
std::string lot_sentence(const service::LotLine& line);
/// "Sets of this lot gave about 20 % less than expected (10 to 29 %), from 17 sets in 6 homes."
std::string did_sentence(const service::LotDid& did);

}  // namespace cellarer::api
