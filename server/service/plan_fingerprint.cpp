// SPDX-License-Identifier: MIT
#include <cstring>

#include "server/service/plan_input.hpp"

namespace cellarer::service {

namespace {

class Fingerprint {
 public:
  void add(const std::string& text) {
    add(static_cast<long long>(text.size()));
    for (const char c : text) step(static_cast<unsigned char>(c));
  }
  void add(long long number) {
    for (int i = 0; i < 8; ++i) step(static_cast<unsigned char>(number >> (8 * i)));
  }
  void add(int number) { add(static_cast<long long>(number)); }
  void add(bool so) { add(so ? 1LL : 0LL); }
  void add(double number) {
    long long bits = 0;
    static_assert(sizeof bits == sizeof number);
    std::memcpy(&bits, &number, sizeof bits);
    add(bits);
  }
  void add(rounds::Date date) { add(static_cast<long long>(std::chrono::sys_days{date}.time_since_epoch().count())); }
  void add(std::chrono::year_month month) {
    add(static_cast<int>(month.year()) * 12 + static_cast<int>(static_cast<unsigned>(month.month())));
  }
  template <class T>
  void add(const std::optional<T>& value) {
    add(value.has_value());
    if (value) add(*value);
  }

  void add(const rounds::Need& need) {
    add(need.item);
    add(need.packs);
    add(need.earliest);
    add(need.deliver_by);
    add(need.must_last);
    for (const auto& step : need.risk) {
      add(step.from);
      add(step.probability);
    }
  }
  void add(const rounds::Household& household) {
    add(household.reference);
    add(household.area);
    add(household.address);
    each(household.needs);
  }
  void add(const rounds::Round& round) {
    add(round.id);
    add(round.area);
    add(round.date);
    add(round.stops);
    add(round.lead_days);
  }
  void add(const rounds::Item& item) {
    add(item.name);
    add(item.pieces_per_pack);
    add(item.pieces_per_set);
  }
  void add(const rounds::AgencyLot& lot) {
    add(lot.item);
    add(lot.lot);
    add(lot.packs);
    add(lot.expires);
    add(lot.recalled);
    add(lot.arrives);
  }
  void add(const rounds::ConfirmedStop& stop) {
    add(stop.address);
    add(stop.round);
  }
  void add(const rounds::Pin& pin) {
    add(pin.address);
    add(pin.round);
    add(pin.stop);
  }
  template <class T>
  void each(const std::vector<T>& list) {
    add(static_cast<long long>(list.size()));
    for (const T& one : list) add(one);
  }
  std::uint64_t value() const { return value_; }

 private:
  void step(unsigned char byte) { value_ = (value_ ^ byte) * 0x100000001b3ULL; }
  std::uint64_t value_ = 0xcbf29ce484222325ULL;
};

}  // namespace

std::string fingerprint(const rounds::PlanInput& input) {
  Fingerprint print;
  print.add(input.today);
  print.add(input.horizon_days);
  print.each(input.households);
  print.each(input.rounds);
  print.each(input.items);
  print.add(input.lots.has_value());
  if (input.lots) print.each(*input.lots);
  print.each(input.confirmed);
  print.each(input.pins);
  return std::to_string(print.value());
}

}  // namespace cellarer::service
