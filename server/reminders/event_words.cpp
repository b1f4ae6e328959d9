// SPDX-License-Identifier: MIT
#include "server/reminders/event_words.hpp"

#include <cctype>
#include <map>

namespace cellarer::reminders {

namespace {

std::string wall_clock(Instant at, Zone zone) { return date::format("%H:%M", zone->to_local(at)); }

std::string english_title(const std::string& subject, const std::string& item) {
  return item.empty() ? "Change the " + subject + " cells" : "Order " + item;
}

std::string english_text(Instant as_of, Zone zone) {
  return "An estimate, as of " + date::format("%a %d %b", zone->to_local(as_of)) + ", " + wall_clock(as_of, zone) +
         ". The unit's own alarm comes first: act on it at once.\nThis is a reminder and no alarm. Calendars look "
         "again "
         "only every 8 to 24 hours: it may be out of date. The page knows what was recorded since.";
}

/// As the pages name them (web/src/words/catalogue/es/service_words.json); another by the name that its agency gave it.
std::string spanish_item(const std::string& item) {
  static const std::map<std::string, std::string> names{
      {"cells", "pilas"}, {"antennas", "antenas"}, {"dressings", "apósitos"}, {"tape", "cinta"}};
  const auto found = names.find(item);
  return found == names.end() ? item : found->second;
}

std::string spanish_title(const std::string& subject, const std::string& item) {
  if (!item.empty()) return "Pida " + spanish_item(item);
  return std::string("Cambie las pilas del lado ") + (subject == "left" ? "izquierdo" : "derecho");
}

/// "vie, 27 nov", as the pages say it (web/src/words/catalogue/es/days.json).
std::string spanish_day(Instant at, Zone zone) {
  static constexpr const char* weekdays[] = {"dom", "lun", "mar", "mié", "jue", "vie", "sáb"};
  static constexpr const char* months[] = {"ene", "feb", "mar",  "abr", "may", "jun",
                                           "jul", "ago", "sept", "oct", "nov", "dic"};
  const auto day = date::floor<date::days>(zone->to_local(at));
  const date::year_month_day calendar(day);
  return std::string(weekdays[date::weekday(day).c_encoding()]) + ", " +
         std::to_string(static_cast<unsigned>(calendar.day())) + " " +
         months[static_cast<unsigned>(calendar.month()) - 1];
}

std::string spanish_text(Instant as_of, Zone zone) {
  return "Una estimación del " + spanish_day(as_of, zone) + ", " + wall_clock(as_of, zone) +
         ". La alarma de la unidad va primero: hágale caso enseguida.\nEsto es un recordatorio y no una alarma. Los "
         "calendarios solo vuelven a mirar cada 8 a 24 horas: puede haber quedado viejo. La página sabe lo que se "
         "registró desde entonces.";
}

}  // namespace

Language language_of(const std::string& tag) {
  const auto primary = tag.substr(0, tag.find('-'));
  const auto small = [](char letter) { return static_cast<char>(std::tolower(static_cast<unsigned char>(letter))); };
  const bool spanish = primary.size() == 2 && small(primary[0]) == 'e' && small(primary[1]) == 's';
  return spanish ? Language::spanish : Language::english;
}

std::string event_title(const std::string& subject, bool plain, Language language) {
  const bool spanish = language == Language::spanish;
  if (!plain) return spanish ? "Mire la página" : "Look at the page";
  const std::string order = "order:";
  const auto item = subject.starts_with(order) ? subject.substr(order.size()) : "";
  return spanish ? spanish_title(subject, item) : english_title(subject, item);
}

std::string event_text(Instant as_of, Zone zone, Language language) {
  return language == Language::spanish ? spanish_text(as_of, zone) : english_text(as_of, zone);
}

}  // namespace cellarer::reminders
