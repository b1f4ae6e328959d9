// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/adjust.hpp"
#include "model/stock/records.hpp"
#include "server/json/field.hpp"

/// What the desk and the homes send each other, read by itself: no more than the body is needed. Each refuses what
/// cannot be (`json::Refused`).
namespace cellarer::api {

/// {"stop", "from"?, "to"?}
rounds::Change read_stop_change(const json::Field& body);
/// {"rounds": [...]}, one at least.
std::vector<std::string> read_confirmed_rounds(const json::Field& body);
/// {"area", "stop"?, "storage"?: [{"item", "pieces"}]}
void check_stop_place(const json::Field& body);
/// {"about", "note"?}; its time is read by the door.
void check_message(const json::Field& body);
/// [{"item", "lot"?, "pieces", "expires"?}]: what came, where it is not what was sent.
std::vector<stock::Line> read_delivered(const json::Field& list);

}  // namespace cellarer::api
