// SPDX-License-Identifier: MIT
#include "server/api/desk_bodies.hpp"

namespace cellarer::api {

using cellarer::json::Field;

rounds::Change read_stop_change(const Field& body) {
  rounds::Change change;
  change.address = body["stop"].text(80);
  if (const auto from = body.find("from")) change.from = from->text();
  if (const auto to = body.find("to")) change.to = to->text();
  return change;
}

std::vector<std::string> read_confirmed_rounds(const Field& body) {
  std::vector<std::string> rounds;
  for (const Field& round : body["rounds"].elements(400)) rounds.push_back(round.text());
  if (rounds.empty()) body["rounds"].refuse("out-of-range", "names no round: give one of the plan's at least");
  return rounds;
}

void check_stop_place(const Field& body) {
  body["area"].text(60);
  if (const auto stop = body.find("stop")) stop->text(60);
  const auto storage = body.find("storage");
  if (!storage) return;
  for (const Field& one : storage->elements(50)) {
    one["item"].text(60);
    one["pieces"].integer(1, 100'000);
  }
}

void check_message(const Field& body) {
  body["about"].word({"running_short", "unit_trouble"});
  if (const auto note = body.find("note")) note->text(500);
}

std::vector<stock::Line> read_delivered(const Field& list) {
  std::vector<stock::Line> lines;
  for (const Field& one : list.elements(50)) {
    stock::Line line;
    line.item = one["item"].text(60);
    if (const auto lot = one.find("lot")) line.lot = lot->text(60);
    line.quantity = one["pieces"].integer(0, 100'000);
    if (const auto expires = one.find("expires")) line.expires = expires->month();
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace cellarer::api
