// SPDX-License-Identifier: MIT
// TLS as RFC 8446 (1.3), 5246 (1.2), 8996 (1.1 is dead) and 7301 (ALPN) have it, and certificates that change while
// the service runs. Alerts are numbered in RFC 8446, section 6.
#include <signal.h>

#include <fstream>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/raw_connection.hpp"
#include "tests/support/service.hpp"
#include "tests/support/tls.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

constexpr int tls_1_1 = 0x0302, tls_1_2 = 0x0303, tls_1_3 = 0x0304;
constexpr int handshake_failure = 40, protocol_version = 70, no_application_protocol = 120;
const std::string health = "/api/v1/health", ready = "/api/v1/ready";

/// A service with a certificate of its own for cells.test.
struct SecureService {
  explicit SecureService(json more = json::object(), int from_days = -1, int until_days = 90)
      : first(make_certificate(folder.path(), "in-use", from_days, until_days)), service(config(std::move(more))) {}

  json config(json more) const {
    json all{{"public_address", "https://" + public_host},
             {"tls", {{"certificate", first.certificate}, {"key", first.key}, {"check_s", 3600}}}};
    all.merge_patch(more);
    return all;
  }
  /// Puts other files in the place of those in use, each in one step.
  void replace_by(const CertificateFiles& other) const {
    std::filesystem::rename(other.key, first.key);
    std::filesystem::rename(other.certificate, first.certificate);
  }
  /// Whether the service comes to answer a client that trusts this certificate only.
  bool comes_to_show(const std::filesystem::path& trusted) const {
    return soon([&] { return https_get(service.port(), trusted, health).status == 200; });
  }
  bool comes_to_log(const std::string& text) const {
    return soon([&] { return service.log().find(text) != std::string::npos; });
  }
  template <class Condition>
  static bool soon(const Condition& holds) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (std::chrono::steady_clock::now() < end) {
      if (holds()) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
    return false;
  }

  TemporaryFolder folder;
  CertificateFiles first;
  Service service;
};

}  // namespace

TEST_CASE("TLS 1.2 and 1.3 are spoken, 1.1 and ciphers without authenticated encryption are not", "[http]") {
  const SecureService at;
  CHECK(shake_hands(at.service.port(), {tls_1_2, tls_1_2}).version == "TLSv1.2");
  CHECK(shake_hands(at.service.port(), {tls_1_2, tls_1_3}).version == "TLSv1.3");
  CHECK(shake_hands(at.service.port(), {tls_1_1, tls_1_1}).alert == protocol_version);
  CHECK(shake_hands(at.service.port(), {tls_1_2, tls_1_2, "ECDHE-ECDSA-AES128-SHA256"}).alert == handshake_failure);
  CHECK(shake_hands(at.service.port(), {tls_1_2, tls_1_2, "ECDHE-ECDSA-CHACHA20-POLY1305"}).done);
}

TEST_CASE("http/1.1 is agreed on where the client asks for protocols, and another protocol is not served", "[http]") {
  const SecureService at;
  Offer offer{tls_1_2, tls_1_3};
  CHECK(shake_hands(at.service.port(), offer).protocol.empty());
  offer.protocols = "\x02h2\x08http/1.1";
  CHECK(shake_hands(at.service.port(), offer).protocol == "http/1.1");
  offer.protocols = "\x04imap";
  CHECK(shake_hands(at.service.port(), offer).alert == no_application_protocol);
}

TEST_CASE("over TLS by the public name a browser is told to stay with TLS (RFC 6797)", "[http]") {
  const SecureService at;
  const auto answer = https_get(at.service.port(), at.first.certificate, health);
  CHECK(answer.status == 200);
  CHECK(answer.headers.at("strict-transport-security") == "max-age=63072000");
  const auto local = https_get(at.service.port(), at.first.certificate, health, {"Host: localhost"});
  CHECK(local.status == 200);
  CHECK(local.headers.count("strict-transport-security") == 0);
  CHECK(https_get(at.service.port(), at.first.certificate, health, {"Host: rebound.test"}).status == 400);
}

TEST_CASE("a new certificate is taken up at SIGHUP, and what is under way goes on", "[http]") {
  const SecureService at;
  const auto second = make_certificate(at.folder.path(), "second");
  const auto trusted = at.folder.path() / "trusted.pem";
  std::filesystem::copy_file(second.certificate, trusted);
  CHECK(https_get(at.service.port(), trusted, health).status == 0);
  at.replace_by(second);
  kill(at.service.process(), SIGHUP);
  CHECK(at.comes_to_show(trusted));
  CHECK(https_get(at.service.port(), trusted, ready).json() == json{{"ready", true}});
}

TEST_CASE("a new certificate is taken up without a signal", "[http]") {
  const SecureService at(json{{"tls", {{"check_s", 1}}}});
  const auto second = make_certificate(at.folder.path(), "second");
  const auto trusted = at.folder.path() / "trusted.pem";
  std::filesystem::copy_file(second.certificate, trusted);
  at.replace_by(second);
  CHECK(at.comes_to_show(trusted));
}

TEST_CASE("a new pair that cannot be used leaves the one before, and that is said", "[http]") {
  const SecureService at;
  const auto trusted = at.folder.path() / "trusted.pem";
  std::filesystem::copy_file(at.first.certificate, trusted);
  const auto another = make_certificate(at.folder.path(), "another");
  const auto ended = make_certificate(at.folder.path(), "ended", -90, -1);
  std::string expected;
  SECTION("no certificate") {
    std::ofstream(at.first.certificate) << "half a certif";
    expected = "no certificate chain in PEM";
  }
  SECTION("the key of another") {
    std::filesystem::rename(another.key, at.first.key);
    expected = "no key of this certificate";
  }
  SECTION("ended already") {
    at.replace_by(ended);
    expected = "the new certificate ended on";
  }
  SECTION("gone") {
    std::filesystem::remove(at.first.key);
    expected = "no key of this certificate";
  }
  kill(at.service.process(), SIGHUP);
  CHECK(at.comes_to_log("the one before stays"));
  CHECK(at.service.log().find(expected) != std::string::npos);
  const auto answer = https_get(at.service.port(), trusted, ready);
  CHECK(answer.status == 200);
  CHECK(answer.json()["warnings"].size() == 1);
}

TEST_CASE("the certificate's end is warned of beforehand, in the log and in readiness", "[http]") {
  const SecureService at(json::object(), -80, 10);
  const auto answer = https_get(at.service.port(), at.first.certificate, ready).json();
  CHECK(answer["ready"] == true);
  REQUIRE(answer["warnings"].size() == 1);
  CHECK(answer["warnings"][0].get<std::string>().find("The TLS certificate ends on 20") == 0);
  CHECK(at.service.log().find("The TLS certificate ends on 20") != std::string::npos);
}

TEST_CASE("a certificate for another name is warned of", "[http]") {
  const SecureService at(json{{"public_address", "https://other.test"}});
  CHECK(at.service.log().find("not made for other.test") != std::string::npos);
}

TEST_CASE("without a pair that can be used the service does not start, and says which file is wrong", "[http]") {
  const TemporaryFolder folder;
  const auto one = make_certificate(folder.path(), "one"), two = make_certificate(folder.path(), "two");
  const auto refusal = [](const auto& certificate, const auto& key) -> std::string {
    try {
      Service(json{{"tls", {{"certificate", certificate}, {"key", key}}}});
    } catch (const std::runtime_error& error) {
      return error.what();
    }
    return "started";
  };
  CHECK(refusal(one.certificate, two.key).find("two.key") != std::string::npos);
  CHECK(refusal(folder.path() / "none.pem", one.key).find("none.pem") != std::string::npos);
}

TEST_CASE("a handshake that does not come is ended, and what is no TLS gets no answer", "[http]") {
  const SecureService at(json{{"limits", {{"handshake_s", 1}}}});
  RawConnection silent(at.service.port()), plain(at.service.port());
  plain.send("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n");
  CHECK(plain.read_all().find("HTTP/") == std::string::npos);
  CHECK(plain.is_closed());
  CHECK(silent.read_all().empty());
  CHECK(silent.is_closed());
  CHECK(https_get(at.service.port(), at.first.certificate, health).status == 200);
}

TEST_CASE("a client whose handshake failed and who stays does not keep the service from its end", "[http]") {
  SecureService at;
  RawConnection plain(at.service.port());
  plain.send("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n");
  plain.read_all();  // the alert, and that nothing more is sent; the service reads on for a moment
  CHECK(at.service.terminate() == 0);
}
