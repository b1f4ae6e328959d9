// SPDX-License-Identifier: MIT
#include "server/http/certificates.hpp"

#include <openssl/ssl.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

#include <algorithm>
#include <ctime>
#include <stdexcept>

#include <date/date.h>
#include <spdlog/spdlog.h>

#include "server/http/tls_context.hpp"

namespace cellarer::http {

using std::chrono::sys_seconds;

namespace {

constexpr auto warned_before = std::chrono::days(21);  // or a third of its life, where that is shorter

sys_seconds now() { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

std::string day(sys_seconds at) { return date::format("%F", at); }

sys_seconds instant_of(const ASN1_TIME* time) {
  std::tm parts{};
  if (time == nullptr || ASN1_TIME_to_tm(time, &parts) != 1)
    throw std::runtime_error("the certificate's dates cannot be read");
  return sys_seconds(std::chrono::seconds(timegm(&parts)));
}

/// Another one when the file was written again or another was put in its place.
std::string identity(const std::filesystem::path& file) {
  struct stat found {};
  if (stat(file.c_str(), &found) != 0) return "missing;";
  return std::to_string(found.st_dev) + "," + std::to_string(found.st_ino) + "," + std::to_string(found.st_size) + "," +
         std::to_string(found.st_mtim.tv_sec) + "." + std::to_string(found.st_mtim.tv_nsec) + ";";
}

}  // namespace

Certificates::Certificates(const TlsFiles& files, std::string name, Warnings& warnings)
    : files_(files), name_(std::move(name)), warnings_(warnings) {
  seen_ = identity(files_.certificate) + identity(files_.key);
  use(load());
  struct stat key {};
  if (stat(files_.key.c_str(), &key) == 0 && (key.st_mode & (S_IRWXO | S_IWGRP)) != 0)
    spdlog::warn("the TLS key {} may be read or changed by others: chmod 600", files_.key.string());
}

std::shared_ptr<boost::asio::ssl::context> Certificates::context() const {
  const std::lock_guard lock(mutex_);
  return used_.context;
}

Certificates::Loaded Certificates::load() const {
  Loaded loaded;
  loaded.context = std::make_shared<boost::asio::ssl::context>(tls_context(files_));
  const X509* certificate = SSL_CTX_get0_certificate(loaded.context->native_handle());
  loaded.from = instant_of(X509_get0_notBefore(certificate));
  loaded.until = instant_of(X509_get0_notAfter(certificate));
  if (!name_.empty())
    loaded.for_name = X509_check_host(const_cast<X509*>(certificate), name_.data(), name_.size(), 0, nullptr) == 1;
  return loaded;
}

void Certificates::use(Loaded loaded) {
  spdlog::info("TLS certificate {} is in use until {}", files_.certificate.string(), day(loaded.until));
  if (!loaded.for_name) {
    const auto sentence = "The TLS certificate is not made for " + name_ + ": browsers will refuse it.";
    spdlog::warn(sentence);
    warnings_.set("certificate name", sentence);
  } else {
    warnings_.clear("certificate name");
  }
  {
    const std::lock_guard lock(mutex_);
    used_ = std::move(loaded);
  }
  warn_of_end();
}

void Certificates::look(bool anyhow) {
  const auto seen = identity(files_.certificate) + identity(files_.key);
  if (seen == seen_ && !anyhow) {
    warn_of_end();
    return;
  }
  seen_ = seen;
  try {
    auto loaded = load();
    if (loaded.until <= now() && used_.until > now())
      throw std::runtime_error("the new certificate ended on " + day(loaded.until));
    use(std::move(loaded));
    warnings_.clear("certificate files");
  } catch (const std::exception& error) {
    spdlog::error("the new TLS certificate or key is not taken, the one before stays: {}", error.what());
    warnings_.set("certificate files", "New TLS files are there and cannot be used; the log says why.");
    warn_of_end();
  }
}

/// In the log once for each sentence, in readiness as long as it holds.
void Certificates::warn_of_end() {
  const auto span = std::min<std::chrono::seconds>(warned_before, (used_.until - used_.from) / 3);
  std::string sentence;
  if (used_.until <= now())
    sentence = "The TLS certificate ended on " + day(used_.until) + ": browsers refuse it.";
  else if (used_.from > now())
    sentence = "The TLS certificate begins on " + day(used_.from) + ": until then browsers refuse it.";
  else if (used_.until - now() < span)
    sentence = "The TLS certificate ends on " + day(used_.until) + ".";
  if (sentence.empty())
    warnings_.clear("certificate end");
  else
    warnings_.set("certificate end", sentence);
  if (sentence != said_ && !sentence.empty()) spdlog::warn(sentence);
  said_ = sentence;
}

}  // namespace cellarer::http
