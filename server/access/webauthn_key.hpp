// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>

#include "server/access/cbor.hpp"

/// A passkey's public key, written in COSE (RFC 9052, 9053), and the signatures made with its other half; by OpenSSL.
namespace cellarer::access {

/// COSE algorithm identifiers. Two suffice: every browser and every key that people carry knows ES256.
enum class KeyAlgorithm {
  es256 = -7,   ///< ECDSA on NIST P-256 with SHA-256 (FIPS 186-5)
  ed25519 = -8  ///< EdDSA on Curve25519 (RFC 8032)
};

struct PublicKey {
  KeyAlgorithm algorithm = KeyAlgorithm::es256;
  std::string x;  ///< 32 bytes: P-256's x, big-endian; or the whole key of Ed25519
  std::string y;  ///< 32 bytes: P-256's y; empty for Ed25519
};

/// From a COSE map: 1 key type (2 EC2, 1 OKP), 3 algorithm, -1 curve (1 P-256, 6 Ed25519), -2 x, -3 y. Throws
/// PasskeyRefused "unsupported-key" for any other kind, "malformed-key" for coordinates of the wrong size or a point
/// that is not on the curve.
PublicKey read_public_key(const cbor::Item& cose);

/// Whether `signature` was made over `message` by the key's other half. ES256: DER of ECDSA's (r, s), as WebAuthn 6.5.5
/// prescribes; Ed25519: 64 bytes. A signature of a wrong form is a wrong one.
bool signature_fits(const PublicKey& key, std::string_view message, std::string_view signature);

}  // namespace cellarer::access
