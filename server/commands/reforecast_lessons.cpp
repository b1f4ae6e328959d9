// SPDX-License-Identifier: MIT
#include "server/commands/reforecast_lessons.hpp"

#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>
#include <stdexcept>

#include "server/access/secrets.hpp"

namespace cellarer::commands {

namespace {

using life::Learned;

/// Before the numbers of the state: digest of the basis, how many sets, when the last one that taught ended.
struct Head {
  access::Digest basis{};
  std::uint64_t sets = 0;
  std::int64_t last_lesson_s = no_lesson;

  static constexpr std::int64_t no_lesson = std::numeric_limits<std::int64_t>::min();
};
static_assert(sizeof(Head) == 48, "all of it is written");
static_assert(sizeof(Head) % 3 == 0, "no letter is of it and of the state");

struct Told {
  Head head;
  Learned::Kept kept;
};

std::string written(const Told& told) {
  std::string octets(reinterpret_cast<const char*>(&told.head), sizeof told.head);
  octets.append(reinterpret_cast<const char*>(told.kept.state.data()), told.kept.state.size() * sizeof(double));
  return access::base64url(octets);
}

std::optional<Told> read(const std::string& text) {
  const auto octets = access::from_base64url(text);
  if (!octets || octets->size() < sizeof(Head) || (octets->size() - sizeof(Head)) % sizeof(double) != 0)
    return std::nullopt;
  Told told;
  std::memcpy(&told.head, octets->data(), sizeof told.head);
  told.kept.sets = told.head.sets;
  if (told.head.last_lesson_s != Head::no_lesson)
    told.kept.last_lesson = Instant(std::chrono::seconds(told.head.last_lesson_s));
  told.kept.state.resize((octets->size() - sizeof told.head) / sizeof(double));
  std::memcpy(told.kept.state.data(), octets->data() + sizeof told.head, octets->size() - sizeof told.head);
  return told;
}

/// How many sets a text that was read tells of: without the state, which is most of it.
std::uint64_t sets_of(const std::string& text) {
  constexpr std::size_t letters_of_head = sizeof(Head) / 3 * 4;
  return read(text.substr(0, letters_of_head))->head.sets;
}

auto stints_of(const service::HouseholdRecord& record, Instant as_of) {
  return std::array<std::vector<life::Stint>, 2>{life::stints(record.life, Side::left, as_of),
                                                 life::stints(record.life, Side::right, as_of)};
}

}  // namespace

ReforecastLessons::ReforecastLessons() {
  const std::filesystem::path program = "/proc/self/exe";
  std::string octets(std::filesystem::file_size(program), ' ');
  if (!std::ifstream(program, std::ios::binary).read(octets.data(), static_cast<std::streamsize>(octets.size())))
    throw std::runtime_error("this program cannot be read: is /proc there?");
  const auto digest = access::keyed_digest("what a set taught", octets, "");
  key_.assign(digest.begin(), digest.end());
}

bool ReforecastLessons::take_up(const std::string& text, const service::HouseholdRecord& record, Instant as_of) const {
  const auto told = read(text);
  if (!told || !record.lessons) return false;
  const auto stints = stints_of(record, as_of);
  const auto basis = Learned::basis(record.life, stints, told->kept.sets);
  if (!basis || access::keyed_digest(key_, *basis, "") != told->head.basis) return false;
  auto learned = record.lessons->take();
  const bool holds = learned->take_up(record.life, stints, told->kept);
  record.lessons->put_back(std::move(learned));
  return holds;
}

std::string ReforecastLessons::text_of(const service::HouseholdRecord& record, Instant as_of,
                                       const std::string& before) const {
  if (!record.lessons) return "";
  auto learned = record.lessons->take();
  const auto kept = learned->kept();
  record.lessons->put_back(std::move(learned));
  if (!kept || kept->sets == 0) return "";
  if (!before.empty() && sets_of(before) == kept->sets) return before;
  const auto basis = Learned::basis(record.life, stints_of(record, as_of), kept->sets);
  if (!basis) return "";
  Told told{{}, *kept};
  told.head.basis = access::keyed_digest(key_, *basis, "");
  told.head.sets = kept->sets;
  if (kept->last_lesson) told.head.last_lesson_s = kept->last_lesson->time_since_epoch().count();
  return written(told);
}

}  // namespace cellarer::commands
