// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

/// What is said to a phone through a push service, so that the service cannot read it: RFC 8291 (keys), which uses RFC
/// 8188 (the content coding aes128gcm).
///
///     ecdh   = ECDH(sender's one-time key, phone's key)                                     P-256
///     ikm    = HKDF(salt: auth secret, ecdh, "WebPush: info" 0 phone's key sender's key)    32 bytes
///     key    = HKDF(salt, ikm, "Content-Encoding: aes128gcm" 0)                             16 bytes
///     nonce  = HKDF(salt, ikm, "Content-Encoding: nonce" 0)                                 12 bytes
///     body   = salt | record size | length of key id | key id | AEAD_AES_128_GCM(payload | 2)
///
/// Keys, salts and bodies are bytes in a std::string. All by OpenSSL.
namespace cellarer::push {

/// What a phone gave when it subscribed.
struct PhoneKeys {
  std::string public_key;   ///< 65 bytes: a point of P-256, uncompressed (p256dh)
  std::string auth_secret;  ///< 16 bytes
};

/// The sender's own, for one message.
struct OneTime {
  std::string private_key;  ///< 32 bytes
  std::string public_key;   ///< 65 bytes, uncompressed
  std::string salt;         ///< 16 bytes
};

/// Whether a message can be encrypted for it: the right lengths, and a point on the curve.
bool is_usable(const PhoneKeys& phone);

OneTime draw_one_time();

/// The longest payload [bytes]: what every push service takes (RFC 8030, 7.2) less header, padding and tag.
inline constexpr std::size_t longest_payload = 4096 - 86 - 1 - 16;

/// The body of the request to the push service. Throws std::invalid_argument for keys that are not usable or a payload
/// that is too long.
std::string encrypted(std::string_view payload, const PhoneKeys& phone, const OneTime& own);

/// RFC 8188 alone, in one record: the payload under this key material.
std::string coded(std::string_view payload, std::string_view key_material, std::string_view salt,
                  std::string_view key_id, std::uint32_t record_size = 4096);

}  // namespace cellarer::push
