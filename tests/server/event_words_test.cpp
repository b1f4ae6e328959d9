// SPDX-License-Identifier: MIT
// The events of a household's calendar in English and in Spanish, as libical writes them. What must stand there is the
// design's (DEVELOPERS.md, 9.1 and 9.8); the words are those of the pages (web/src/words/catalogue/es).
#include <algorithm>
#include <sstream>

#include "server/json/field.hpp"
#include "server/reminders/feed.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::reminders;

namespace {

const nlohmann::json two_sides_and_an_order{
    {"zone_now", "Europe/Oslo"},
    {"as_of", "2026-11-28T09:00:00+01:00"},
    {"sides",
     {{"left", {{"change_by", "2026-11-28T21:30:00+01:00"}, {"cells_since", "2026-11-16T21:30:00+01:00"}}},
      {"right", {{"change_by", "2026-12-01T21:30:00+01:00"}, {"cells_since", nullptr}}}}},
    {"stock",
     {{{"item", "cells"}, {"order_by", "2026-12-10"}, {"order_quantity", 24}},
      {{"item", "masks"}, {"order_by", "2026-12-12"}, {"order_quantity", 5}}}}};

/// The content lines of the feed, put together again (RFC 5545, 3.1), with that beginning.
std::vector<std::string> event_lines(const std::string& beginning, bool plain, Language language) {
  service::ReminderSettings settings;
  settings.plain = plain;
  auto text = calendar::written(
      feed_calendar(two_sides_and_an_order, settings, "feed", "", language, [](auto&&...) { return 0; }));
  for (auto fold = text.find("\r\n "); fold != std::string::npos; fold = text.find("\r\n ", fold)) text.erase(fold, 3);
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    if (line.starts_with(beginning)) lines.push_back(line.substr(beginning.size(), line.find('\r') - beginning.size()));
  }
  return lines;
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("an event's words are those of the address's language, English where it names none", "[reminders]") {
  CHECK(language_of("es") == Language::spanish);
  CHECK(language_of("ES-mx") == Language::spanish);  // RFC 5646, 2.1.1: capitals mean nothing
  for (const char* other : {"", "en", "nb-NO", "e", "est", "-es"}) CHECK(language_of(other) == Language::english);
}

TEST_CASE("neutral titles name nothing, plain ones say what is to do, in both languages", "[reminders]") {
  CHECK(event_lines("SUMMARY:", false, Language::english) == Lines(4, "Look at the page"));
  CHECK(event_lines("SUMMARY:", false, Language::spanish) == Lines(4, "Mire la página"));
  CHECK(event_lines("SUMMARY:", true, Language::english) ==
        Lines{"Change the left cells", "Change the right cells", "Order cells", "Order masks"});
  // An item of the agency's own has the name that the agency gave it.
  CHECK(event_lines("SUMMARY:", true, Language::spanish) ==
        Lines{"Cambie las pilas del lado izquierdo", "Cambie las pilas del lado derecho", "Pida pilas", "Pida masks"});
}

TEST_CASE("every event says in its language how old it is, that the alarm comes first, and that it is none",
          "[reminders]") {
  const auto english = event_lines("DESCRIPTION:An estimate", false, Language::english);
  REQUIRE(english.size() == 4);
  CHECK(
      english[0] ==
      "\\, as of Sat 28 Nov\\, 09:00. The unit's own alarm comes first: act on it at once.\\nThis is a reminder and no "
      "alarm. Calendars look again only every 8 to 24 hours: it may be out of date. The page knows what was recorded "
      "since.");
  const auto spanish = event_lines("DESCRIPTION:Una estimación", false, Language::spanish);
  REQUIRE(spanish.size() == 4);
  CHECK(spanish[0] ==
        " del sáb\\, 28 nov\\, 09:00. La alarma de la unidad va primero: hágale caso enseguida.\\nEsto es un "
        "recordatorio "
        "y no una alarma. Los calendarios solo vuelven a mirar cada 8 a 24 horas: puede haber quedado viejo. La página "
        "sabe lo que se registró desde entonces.");
}

TEST_CASE("the language changes words alone: the same events at the same times", "[reminders]") {
  for (const char* line : {"UID:", "DTSTART", "DTEND", "SEQUENCE:", "TRIGGER:"}) {
    INFO(line);
    CHECK_FALSE(event_lines(line, true, Language::english).empty());
    CHECK(event_lines(line, true, Language::english) == event_lines(line, true, Language::spanish));
  }
}
