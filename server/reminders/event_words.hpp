// SPDX-License-Identifier: MIT
#pragma once
#include <string>

#include "model/quantities/time.hpp"

/// What an event in a household's calendar says. A message to a phone is told in that phone's language there
/// (web/src/offline/push_words.ts); a calendar shows what it is sent, so its words are made here, in the language that
/// stands in the address. They are neutral until the household asks for more, as in words.hpp.
namespace cellarer::reminders {

/// Spanish is not checked by a native speaker, as on the pages.
enum class Language { english, spanish };

/// Of an address, by a tag of RFC 5646 ("es", "es-MX"). English where it names none, or another.
Language language_of(const std::string& tag);

/// "left" and "right", or "order:" and an item.
std::string event_title(const std::string& subject, bool plain, Language language);
std::string event_text(Instant as_of, Zone zone, Language language);

}  // namespace cellarer::reminders
