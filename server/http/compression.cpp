// SPDX-License-Identifier: MIT
#include "server/http/compression.hpp"

#include <zlib.h>

#include <algorithm>
#include <stdexcept>

#include "server/http/static_files.hpp"

namespace cellarer::http {

namespace {

constexpr std::size_t shortest = 1400;  // what fits one packet gains nothing

std::string gzip(const std::string& plain) {
  constexpr int as_gzip = 15 + 16, memory_level = 8;
  z_stream stream{};
  if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, as_gzip, memory_level, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("zlib could not begin");
  std::string packed(deflateBound(&stream, static_cast<uLong>(plain.size())), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(plain.data()));
  stream.avail_in = static_cast<uInt>(plain.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  const int ended = deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  if (ended != Z_STREAM_END) throw std::runtime_error("zlib did not end");
  return packed;
}

}  // namespace

void Compression::apply(api::Response& response, const std::string& accept_encoding) {
  const bool is_kept = response.body.use_count() > 1;
  if (!is_kept || response.status != 200 || response.body->size() < shortest) return;
  std::string* etag = nullptr;
  for (auto& [name, value] : response.headers) {
    if (name == "Content-Encoding") return;  // a page's file, compressed when it was built
    if (name == "ETag") etag = &value;
  }
  if (etag == nullptr || response.content_type != "application/json") return;
  const bool packs = accepts(accept_encoding, "gzip");
  if (packs && !etag->starts_with("W/")) etag->insert(0, "W/");
  response.set("Vary", "Accept-Encoding");  // after the tag, which it may move
  if (!packs) return;
  response.body = compressed(response.body);
  response.set("Content-Encoding", "gzip");
}

api::Bytes Compression::compressed(const api::Bytes& plain) {
  {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(plain.get());
    if (found != kept_.end() && found->second.plain.lock() == plain) return found->second.gzip;
  }
  auto packed = std::make_shared<const std::string>(gzip(*plain));
  const std::lock_guard lock(mutex_);
  if (kept_.size() >= looked_through_at_) forget_gone();
  kept_[plain.get()] = {plain, packed};
  return packed;
}

void Compression::forget_gone() {
  std::erase_if(kept_, [](const auto& one) { return one.second.plain.expired(); });
  looked_through_at_ = std::max<std::size_t>(64, 2 * kept_.size());
}

}  // namespace cellarer::http
