// SPDX-License-Identifier: MIT
// Messages go to push services over TLS, to nobody else: a certificate has to be vouched for, be of that name, and be
// in its time (RFC 8030, 8; RFC 9110, 4.3.4; RFC 5280, 6.1.3).
#include "server/push/sender.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/push_service.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/web_push.hpp"

using namespace cellarer;
using namespace cellarer::push;
using cellarer::testing::CertificateFiles;
using cellarer::testing::make_certificate;
using cellarer::testing::PushService;

namespace {

const std::string contact = "mailto:operator@example.org";

struct TlsWay {
  Sent send(const PushService& service, const CertificateFiles& trusted) const {
    const Sender sender(Vapid::kept_in(folder.path() / "push-key.pem"),
                        {contact, service.origin(), trusted.certificate.string()});
    Delivery delivery{
        service.origin() + "/p/kitchen", {browser.public_key, browser.auth_secret}, "Change now.", "left"};
    delivery.keep = std::chrono::hours(1);
    return sender.send(delivery, std::chrono::time_point_cast<Instant::duration>(std::chrono::system_clock::now()));
  }
  CertificateFiles certificate(const std::string& name, int from_days = -1, int until_days = 90,
                               const std::string& host = "localhost") const {
    return make_certificate(folder.path(), name, from_days, until_days, host);
  }

  cellarer::testing::TemporaryFolder folder;
  cellarer::testing::Browser browser = cellarer::testing::new_browser();
};

}  // namespace

TEST_CASE("a message goes over TLS to a push service whose certificate is vouched for", "[push]") {
  const TlsWay way;
  const auto own = way.certificate("own");
  PushService service(own);
  const auto sent = way.send(service, own);
  CHECK(sent.is == Sent::Is::taken);
  CHECK(sent.status == 201);
  const auto came = service.wait_for(1);
  REQUIRE(came.size() == 1);
  CHECK(came[0].path == "/p/kitchen");
  CHECK(cellarer::testing::read_message(came[0].body, way.browser) == "Change now.");
  CHECK(cellarer::testing::claims_of(came[0].headers.at("authorization")).find(service.origin()) != std::string::npos);
}

TEST_CASE("in the clear a message goes to the one origin that a test's configuration allows, and to no other",
          "[push]") {
  const TlsWay way;
  PushService allowed, other;
  const Sender sender(Vapid::kept_in(way.folder.path() / "push-key.pem"), {contact, allowed.origin()});
  const auto sent = [&](const PushService& service) {
    return sender.send({service.origin() + "/p/a", {way.browser.public_key, way.browser.auth_secret}, "x", "left"}, {})
        .is;
  };
  CHECK(sent(allowed) == Sent::Is::taken);
  CHECK(allowed.wait_for(1).size() == 1);
  CHECK(sent(other) == Sent::Is::gone);
  CHECK(other.wait_for(1, 0).empty());
}

TEST_CASE("nothing is told to a push service whose certificate is nobody's, another name's, or over", "[push]") {
  const TlsWay way;
  const auto expect_nothing = [&](const CertificateFiles& shown, const CertificateFiles& trusted) {
    PushService service(shown);
    const auto sent = way.send(service, trusted);
    CHECK(sent.is == Sent::Is::later);
    CHECK(sent.status == 0);
    CHECK(service.wait_for(1, 0).empty());
  };
  const auto own = way.certificate("own");
  SECTION("nobody vouches for it") { expect_nothing(own, way.certificate("another")); }
  SECTION("it is of another name") {
    const auto other = way.certificate("other-name", -1, 90, cellarer::testing::public_host);
    expect_nothing(other, other);
  }
  SECTION("its time is over") {
    const auto over = way.certificate("over", -30, -1);
    expect_nothing(over, over);
  }
  SECTION("its time has not come") {
    const auto early = way.certificate("early", 1, 30);
    expect_nothing(early, early);
  }
}
