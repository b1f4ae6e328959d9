// SPDX-License-Identifier: MIT
#pragma once
#include <string>

/// The other end of Web Push, written from the RFCs for tests: a browser's keys, and its reading of what came.
namespace cellarer::testing {

/// A browser's subscription: its key pair on P-256 and its secret. All bytes.
struct Browser {
  std::string private_key, public_key, auth_secret;
};

/// With keys of its own.
Browser new_browser();

/// base64url without padding, and back.
std::string to_base64url(const std::string& bytes);
std::string of_base64url(const std::string& text);

/// What a body in the content coding aes128gcm says (RFC 8188, 2), any number of records, under this key material.
/// Throws std::runtime_error where it is not authentic.
std::string decoded(const std::string& body, const std::string& key_material);

/// What a message says to this browser (RFC 8291, 3.4).
std::string read_message(const std::string& body, const Browser& browser);

/// The claims of a signature (RFC 8292), a JSON text; the header's key must have signed it. Throws where it has not.
std::string claims_of(const std::string& authorization);

}  // namespace cellarer::testing
