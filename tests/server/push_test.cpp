// SPDX-License-Identifier: MIT
// Web Push against the RFCs' own vectors, both ways: what we write, and what the tests' reader (written from the RFCs)
// makes of theirs and ours.
#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/stat.h>

#include <fstream>

#include <nlohmann/json.hpp>

#include "server/push/encryption.hpp"
#include "server/push/endpoint.hpp"
#include "server/push/vapid.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"
#include "tests/support/web_push.hpp"

using namespace cellarer;
using namespace cellarer::push;
using cellarer::testing::claims_of;
using cellarer::testing::decoded;
using cellarer::testing::of_base64url;
using cellarer::testing::read_message;

namespace {

// RFC 8291, section 5 and appendix A.
const std::string watermelon = "When I grow up, I want to be a watermelon";
const OneTime sender{of_base64url("yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw"),
                     of_base64url("BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl"
                                  "7A8"),
                     of_base64url("DGv6ra1nlYgDCS1FRnbzlw")};
const cellarer::testing::Browser receiver{
    of_base64url("q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"),
    of_base64url("BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"),
    of_base64url("BTBZMqHH6r4Tts7J_aSIgg")};
const std::string rfc_8291_body = of_base64url(
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_"
    "c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_"
    "yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN");

sockaddr_storage address(const char* text) {
  sockaddr_storage storage{};
  auto* v4 = reinterpret_cast<sockaddr_in*>(&storage);
  auto* v6 = reinterpret_cast<sockaddr_in6*>(&storage);
  if (inet_pton(AF_INET, text, &v4->sin_addr) == 1)
    storage.ss_family = AF_INET;
  else if (inet_pton(AF_INET6, text, &v6->sin6_addr) == 1)
    storage.ss_family = AF_INET6;
  return storage;
}

bool is_open(const char* text) {
  const auto storage = address(text);
  return is_open_network(reinterpret_cast<const sockaddr*>(&storage));
}

}  // namespace

TEST_CASE("a message is encrypted as in the example of RFC 8291, byte by byte", "[push]") {
  CHECK(encrypted(watermelon, {receiver.public_key, receiver.auth_secret}, sender) == rfc_8291_body);
  CHECK(read_message(rfc_8291_body, receiver) == watermelon);
}

TEST_CASE("the content coding is that of the example of RFC 8188, 3.1", "[push]") {
  const auto key = of_base64url("yqdlZ-tYemfogSmv7Ws5PQ"), salt = of_base64url("I1BsxtFttlv3u_Oo94xnmw");
  const auto body = of_base64url("I1BsxtFttlv3u_Oo94xnmwAAEAAA-NAVub2qFgBEuQKRapoZu-IxkIva3MEB1PD-ly8Thjg");
  CHECK(coded("I am the walrus", key, salt, "") == body);
  CHECK(decoded(body, key) == "I am the walrus");
}

TEST_CASE("the tests' reader reads the example of RFC 8188, 3.2: two records and padding", "[push]") {
  const auto body = of_base64url(
      "uNCkWiNYzKTnBN9ji3-qWAAAABkCYTHOG8chz_gnvgOqdGYovxyjuqRyJFjEDyoF1Fvkj6hQPdPHI51OEUKEpgz3SsLWIqS_uA");
  CHECK(decoded(body, of_base64url("BO3ZVPxUlnLORbVGMpbT1Q")) == "I am the walrus");
}

TEST_CASE("each message has keys of its own, and only the phone it is for reads it", "[push]") {
  const auto browser = cellarer::testing::new_browser(), other = cellarer::testing::new_browser();
  const PhoneKeys phone{browser.public_key, browser.auth_secret};
  const auto once = encrypted("{}", phone, draw_one_time()), again = encrypted("{}", phone, draw_one_time());
  CHECK(once != again);
  CHECK(read_message(once, browser) == "{}");
  CHECK(read_message(again, browser) == "{}");
  CHECK_THROWS(read_message(once, {other.private_key, other.public_key, browser.auth_secret}));
  const std::string longest(longest_payload, 'x');
  const auto body = encrypted(longest, phone, draw_one_time());
  CHECK(body.size() == 4096);  // what a push service has to take: RFC 8030, 7.2
  CHECK(read_message(body, browser) == longest);
  CHECK_THROWS_AS(encrypted(longest + "x", phone, draw_one_time()), std::invalid_argument);
}

TEST_CASE("keys that are no keys are refused", "[push]") {
  CHECK(is_usable({receiver.public_key, receiver.auth_secret}));
  auto off_the_curve = receiver.public_key;
  off_the_curve[64] = static_cast<char>(off_the_curve[64] ^ 1);
  CHECK_FALSE(is_usable({off_the_curve, receiver.auth_secret}));
  CHECK_FALSE(is_usable({receiver.public_key, "short"}));
  CHECK_FALSE(is_usable({receiver.public_key.substr(1), receiver.auth_secret}));
  CHECK_THROWS_AS(encrypted("{}", {off_the_curve, receiver.auth_secret}, sender), std::invalid_argument);
}

TEST_CASE("the tests' reader takes the signature of RFC 8292's example, and no other", "[push]") {
  // RFC 8292, 2.4.
  const std::string header =
      "vapid "
      "t=eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9.eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQiLCJleHAiOjE0NTM1MjM3Njgs"
      "InN1YiI6Im1haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0.i3CYb7t4xfxCDquptFOepC9GAu_"
      "HLGkMlMuCGSK2rpiUfnK9ojFwDXb1JrErtmysazNjj"
      "vW2L9OkSSHzvoD1oA, k=BA1Hxzyi1RUM1b5wjxsn7nGxAszw2u61m164i3MrAIxHF6YK5h4SDYic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs";
  const auto claims = nlohmann::json::parse(claims_of(header));
  CHECK(claims["aud"] == "https://push.example.net");
  auto other = header;
  other[header.find(".i3") + 1] = 'j';
  CHECK_THROWS(claims_of(other));
}

TEST_CASE("we sign for one push service, for a while, with a key that stays", "[push]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / "push-key.pem";
  const Instant expires{std::chrono::seconds(1'800'000'000)};
  const auto first = Vapid::kept_in(file);
  const auto header = first.authorization("https://push.example.net", "mailto:push@example.com", expires);
  const auto claims = nlohmann::json::parse(claims_of(header));
  CHECK(claims == nlohmann::json{
                      {"aud", "https://push.example.net"}, {"exp", 1'800'000'000}, {"sub", "mailto:push@example.com"}});
  CHECK(Vapid::kept_in(file).public_key() == first.public_key());
  struct stat status {};
  REQUIRE(stat(file.c_str(), &status) == 0);
  CHECK((status.st_mode & 0777U) == 0600U);
  std::ofstream(folder.path() / "other.pem") << "no key";
  CHECK_THROWS_AS(Vapid::kept_in(folder.path() / "other.pem"), std::runtime_error);
}

TEST_CASE("messages go to https alone, on its usual port", "[push]") {
  CHECK(read_endpoint("https://Push.example.net/p/JzLQ3raZJfFBR0aq", "")->origin == "https://push.example.net");
  CHECK(read_endpoint("https://push.example.net:443/p", "")->origin == "https://push.example.net");
  for (const char* not_taken :
       {"http://push.example.net/p", "https://push.example.net:8443/p", "https://user@push.example.net/p",
        "https://push.example.net", "https:///p", "https://[::1]/p", "ftp://push.example.net/p", "https://a b/p", "",
        "http://127.0.0.1:4711/p"}) {
    INFO(not_taken);
    CHECK_FALSE(read_endpoint(not_taken, ""));
  }
  const std::string local = "http://127.0.0.1:4711";
  CHECK(read_endpoint("http://127.0.0.1:4711/p", local)->local);
  CHECK_FALSE(read_endpoint("http://127.0.0.1:47112/p", local));
}

TEST_CASE("no address of a network of one's own is called, whatever name leads to it", "[push]") {
  // RFC 6890's registry; 8.8.8.8 and 2606:4700::1111 stand for any open one.
  for (const char* open : {"8.8.8.8", "172.32.0.1", "100.128.0.1", "2606:4700::1111"}) {
    INFO(open);
    CHECK(is_open(open));
  }
  for (const char* closed : {"0.0.0.0",
                             "10.1.2.3",
                             "100.64.0.1",
                             "127.0.0.1",
                             "169.254.169.254",
                             "172.16.0.1",
                             "172.31.255.255",
                             "192.0.0.1",
                             "192.0.2.1",
                             "192.168.1.1",
                             "198.18.0.1",
                             "198.51.100.1",
                             "203.0.113.1",
                             "224.0.0.1",
                             "255.255.255.255",
                             "::1",
                             "::",
                             "fe80::1",
                             "fc00::1",
                             "ff02::1",
                             "::ffff:127.0.0.1",
                             "64:ff9b::7f00:1",
                             "2002:7f00:1::",
                             "2001::1"}) {
    INFO(closed);
    CHECK_FALSE(is_open(closed));
  }
}
