// SPDX-License-Identifier: MIT
#include "server/push/sender.hpp"

#include <sys/socket.h>
#include <unistd.h>

#include <charconv>
#include <memory>
#include <stdexcept>

#include <curl/curl.h>

#include "server/push/endpoint.hpp"

namespace cellarer::push {

namespace {

constexpr long connect_s = 5, answer_s = 15;
constexpr auto signature_good_for = std::chrono::hours(12);  // at most 24 (RFC 8292, 2)

struct FreeCurl {
  void operator()(CURL* curl) const { curl_easy_cleanup(curl); }
  void operator()(curl_slist* list) const { curl_slist_free_all(list); }
};

/// What it answers in words is of no use, and may be long.
std::size_t nowhere(char*, std::size_t size, std::size_t count, void*) { return size * count; }

std::size_t take_header(char* data, std::size_t size, std::size_t count, void* to) {
  const std::string_view line(data, size * count);
  constexpr std::string_view name = "retry-after:";
  if (line.size() > name.size() && curl_strnequal(line.data(), name.data(), name.size()) != 0) {
    const auto from = line.find_first_not_of(" \t", name.size());
    long seconds = -1;
    if (from != std::string_view::npos) std::from_chars(line.data() + from, line.data() + line.size(), seconds);
    if (seconds >= 0) *static_cast<std::optional<std::chrono::seconds>*>(to) = std::chrono::seconds(seconds);
  }
  return size * count;
}

/// A name may lead anywhere: what it leads to is looked at before a connection is made.
curl_socket_t open_socket(void* closed_too, curlsocktype, curl_sockaddr* address) {
  if (closed_too == nullptr && !is_open_network(&address->addr)) return CURL_SOCKET_BAD;
  return socket(address->family, address->socktype | SOCK_CLOEXEC, address->protocol);
}

Sent::Is meaning_of(long status) {
  if (status >= 200 && status < 300) return Sent::Is::taken;
  if (status == 404 || status == 410) return Sent::Is::gone;
  const bool busy = status == 408 || status == 425 || status == 429 || status >= 500 || status == 0;
  return busy ? Sent::Is::later : Sent::Is::refused;
}

class Headers {
 public:
  void add(const std::string& line) {
    curl_slist* longer = curl_slist_append(list_.get(), line.c_str());
    if (longer == nullptr) throw std::bad_alloc();
    static_cast<void>(list_.release());
    list_.reset(longer);
  }
  curl_slist* get() const { return list_.get(); }

 private:
  std::unique_ptr<curl_slist, FreeCurl> list_;
};

}  // namespace

Sent Sender::send(const Delivery& delivery, Instant now) const {
  Sent sent;
  const auto endpoint = read_endpoint(delivery.endpoint, terms_.local_service);
  if (!endpoint) return {Sent::Is::gone, 0, std::nullopt, "not an address that may be sent to"};
  const auto body = encrypted(delivery.payload, delivery.phone, draw_one_time());
  Headers headers;
  headers.add("Authorization: " + vapid_.authorization(endpoint->origin, terms_.contact, now + signature_good_for));
  headers.add("Content-Encoding: aes128gcm");
  headers.add("Content-Type: application/octet-stream");
  headers.add("TTL: " + std::to_string(delivery.keep.count()));
  headers.add(std::string("Urgency: ") + (delivery.urgent ? "high" : "normal"));
  headers.add("Topic: " + delivery.topic);
  headers.add("Expect:");

  const std::unique_ptr<CURL, FreeCurl> curl(curl_easy_init());
  if (!curl) throw std::runtime_error("libcurl could not begin");
  bool closed_too = true;
  curl_easy_setopt(curl.get(), CURLOPT_URL, delivery.endpoint.c_str());
  const bool in_the_clear = endpoint->local && !endpoint->origin.starts_with("https:");
  curl_easy_setopt(curl.get(), CURLOPT_PROTOCOLS_STR, in_the_clear ? "http" : "https");
  if (!terms_.trusted.empty()) curl_easy_setopt(curl.get(), CURLOPT_CAINFO, terms_.trusted.c_str());
  curl_easy_setopt(curl.get(), CURLOPT_PROXY, "");  // nothing is read from the environment
  curl_easy_setopt(curl.get(), CURLOPT_FOLLOWLOCATION, 0L);
  curl_easy_setopt(curl.get(), CURLOPT_OPENSOCKETFUNCTION, open_socket);
  curl_easy_setopt(curl.get(), CURLOPT_OPENSOCKETDATA, endpoint->local ? static_cast<void*>(&closed_too) : nullptr);
  curl_easy_setopt(curl.get(), CURLOPT_POST, 1L);
  curl_easy_setopt(curl.get(), CURLOPT_POSTFIELDSIZE_LARGE, static_cast<curl_off_t>(body.size()));
  curl_easy_setopt(curl.get(), CURLOPT_POSTFIELDS, body.data());
  curl_easy_setopt(curl.get(), CURLOPT_HTTPHEADER, headers.get());
  curl_easy_setopt(curl.get(), CURLOPT_WRITEFUNCTION, nowhere);
  curl_easy_setopt(curl.get(), CURLOPT_HEADERFUNCTION, take_header);
  curl_easy_setopt(curl.get(), CURLOPT_HEADERDATA, &sent.retry_after);
  curl_easy_setopt(curl.get(), CURLOPT_CONNECTTIMEOUT, connect_s);
  curl_easy_setopt(curl.get(), CURLOPT_TIMEOUT, answer_s);
  curl_easy_setopt(curl.get(), CURLOPT_NOSIGNAL, 1L);
  const CURLcode result = curl_easy_perform(curl.get());
  long status = 0;
  if (result == CURLE_OK) curl_easy_getinfo(curl.get(), CURLINFO_RESPONSE_CODE, &status);
  sent.status = static_cast<int>(status);
  sent.is = meaning_of(status);
  sent.why = result == CURLE_OK ? "status " + std::to_string(status) : curl_easy_strerror(result);
  return sent;
}

}  // namespace cellarer::push
