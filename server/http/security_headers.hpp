// SPDX-License-Identifier: MIT
#pragma once
#include <utility>

/// What every answer tells a browser, after OWASP's Secure Headers list. Clear-Site-Data is for the sign-out alone,
/// Cache-Control for each document (`no-store` where it says nothing else).
namespace cellarer::http {

inline constexpr std::pair<const char*, const char*> security_headers[] = {
    // The pages' scripts, styles and data come from this service and from nowhere else; nothing stands inline.
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
     "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Embedder-Policy", "require-corp"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Permissions-Policy",
     "accelerometer=(), autoplay=(), camera=(), display-capture=(), geolocation=(), gyroscope=(), magnetometer=(), "
     "microphone=(), midi=(), payment=(), usb=(), publickey-credentials-create=(self), "
     "publickey-credentials-get=(self)"},
    {"X-Permitted-Cross-Domain-Policies", "none"},
    {"X-DNS-Prefetch-Control", "off"},
};

/// Over TLS and for the public name alone (RFC 6797): two years, as Mozilla's guideline has it.
inline constexpr const char* strict_transport_security = "max-age=63072000";

}  // namespace cellarer::http
