// SPDX-License-Identifier: MIT
#include "model/life/learned.hpp"

#include <algorithm>

#include "model/life/basis.hpp"
#include "model/life/lessons.hpp"
#include "model/life/running_set.hpp"

namespace cellarer::life {

namespace {

/// Every member is named, so that a new one does not compile before somebody has asked whether lessons rest on it.
auto ground_of(const Household& household) {
  const auto& [zone, changing_times, units, settings, paced_instead, paced_more, switched_off, visits, stays, hospital,
               cell_changes, readings, cell_profiles, unknown_cells, policy, agency] = household;
  return std::tie(zone, units, settings, paced_instead, paced_more, switched_off, stays, hospital, cell_profiles,
                  unknown_cells, agency);
}

/// Of both sides by when they ended; of one moment the left one first.
std::vector<std::pair<Side, const Stint*>> ended_of(const std::array<std::vector<Stint>, 2>& sides) {
  std::vector<std::pair<Side, const Stint*>> ended;
  for (const auto side : both_sides) {
    for (const auto& stint : sides[side == Side::left ? 0 : 1]) {
      if (stint.out) ended.emplace_back(side, &stint);
    }
  }
  std::stable_sort(ended.begin(), ended.end(),
                   [](const auto& a, const auto& b) { return a.second->out->at < b.second->out->at; });
  return ended;
}

}  // namespace

Learned::Learned() = default;
Learned::Learned(Learned&&) noexcept = default;
Learned& Learned::operator=(Learned&&) noexcept = default;
Learned::~Learned() = default;

void Learned::keep_running(bool kept) {
  if (kept != (running_ != nullptr)) running_ = kept ? std::make_unique<std::array<RunningSet, 2>>() : nullptr;
}

RunningSet* Learned::running(Side side) { return running_ ? &(*running_)[side == Side::left ? 0 : 1] : nullptr; }

bool Learned::holds_for(const Household& household, const std::vector<std::pair<Side, const Stint*>>& ended) const {
  return learning_ && sets_.size() <= ended.size() && *ground_ == ground_of(household) &&
         std::equal(sets_.begin(), sets_.end(), ended.begin(), [](const Ended& kept, const auto& given) {
           return kept.side == given.first && kept.stint == *given.second;
         });
}

const Learning& Learned::up_to(const Household& household, const std::array<std::vector<Stint>, 2>& sides,
                               LoadTables& tables) {
  const auto ended = ended_of(sides);
  if (!holds_for(household, ended)) {
    ground_ = ground_of(household);
    sets_.clear();
    learning_.emplace(household);
    last_lesson_.reset();
  }
  for (std::size_t k = sets_.size(); k < ended.size(); ++k) {
    const auto& [side, stint] = ended[k];
    teach(*learning_, household, side, *stint, tables, last_lesson_);
    sets_.push_back({side, *stint});
  }
  return *learning_;
}

std::optional<Learned::Kept> Learned::kept() const {
  if (!learning_) return std::nullopt;
  return Kept{sets_.size(), last_lesson_, learning_->state()};
}

std::optional<std::string> Learned::basis(const Household& household, const std::array<std::vector<Stint>, 2>& sides,
                                          std::size_t sets) {
  const auto ended = ended_of(sides);
  if (ended.size() < sets) return std::nullopt;
  Basis basis;
  std::apply([&](const auto&... part) { (basis.add(part), ...); }, ground_of(household));
  for (std::size_t k = 0; k < sets; ++k) {
    basis.add(ended[k].first);
    basis.add(*ended[k].second);
  }
  return basis.octets();
}

bool Learned::take_up(const Household& household, const std::array<std::vector<Stint>, 2>& sides, const Kept& kept) {
  const auto ended = ended_of(sides);
  Learning learning(household);
  if (ended.size() < kept.sets || !learning.take_up(kept.state)) return false;
  ground_ = ground_of(household);
  sets_.clear();
  for (std::size_t k = 0; k < kept.sets; ++k) sets_.push_back({ended[k].first, *ended[k].second});
  learning_ = std::move(learning);
  last_lesson_ = kept.last_lesson;
  return true;
}

}  // namespace cellarer::life
