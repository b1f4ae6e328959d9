// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>

/// How long things are good for.
namespace cellarer::access {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

inline constexpr auto phone_invitation = minutes(30);  ///< read off a screen, or scanned, at once
inline constexpr auto staff_invitation = hours(24);    ///< sent, and read the next morning

/// A home must not be signed out at night because nobody opened the page for a while: a phone's session ends when it
/// was not used for this long (400 days is the longest that browsers keep a cookie). Staff sign in each working day.
inline constexpr auto phone_unused = days(400);
inline constexpr auto staff_session = hours(12);

inline constexpr auto fresh_sign_in = minutes(15);  ///< within which staff may make a further passkey

inline constexpr auto rotation = hours(24);            ///< after which a token is replaced
inline constexpr auto previous_token = minutes(5);     ///< that the old one stays good after the new one was seen
inline constexpr auto rotation_retried = seconds(60);  ///< a new token not seen for so long is lost: another is made

inline constexpr auto ended_remembered = days(30);  ///< an ended session can be told why it ended; then it is removed

}  // namespace cellarer::access
