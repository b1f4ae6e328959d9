// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "server/api/message.hpp"

/// The built pages, read into memory once at the start: a request can reach what was read, and nothing else
/// on the disk. `x.js.br` and `x.js.gz` beside `x.js` are its compressed forms.
namespace cellarer::http {

class StaticFiles {
 public:
  /// An empty or missing folder: no pages, only a notice at `/`.
  explicit StaticFiles(const std::filesystem::path& folder);

  /// GET of `path` by a client that takes these encodings. `/`, `/in` (signing in) and everything
  /// under `/h/` (a household) is index.html. A name with a content hash may be kept for ever; the rest is asked for
  /// again.
  api::Response get(const std::vector<std::string>& path, const std::string& accept_encoding,
                    const std::optional<std::string>& if_none_match) const;

  std::size_t size() const { return files_.size(); }

 private:
  struct File {
    std::string content_type;
    bool for_ever = false;
    std::string etag;
    api::Bytes plain, brotli, gzip;
  };

  std::map<std::string, File> files_;  ///< by path without the first slash
};

/// Whether a list of encodings (RFC 9110) takes this one, with a weight above nought.
bool accepts(const std::string& accept_encoding, const std::string& encoding);

/// "main-3KQ7ZB2A.js": eight or more letters and digits, with a digit, between the last hyphen and the dot.
bool has_content_hash(const std::string& name);

}  // namespace cellarer::http
