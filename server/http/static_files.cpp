// SPDX-License-Identifier: MIT
#include "server/http/static_files.hpp"
#include "server/http/text.hpp"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <sstream>

namespace cellarer::http {

namespace {

api::Bytes read_file(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream content;
  content << stream.rdbuf();
  return std::make_shared<const std::string>(std::move(content).str());
}

std::string content_type_of(const std::filesystem::path& file) {
  static const std::map<std::string, std::string> types{{".html", "text/html; charset=utf-8"},
                                                        {".js", "text/javascript; charset=utf-8"},
                                                        {".css", "text/css; charset=utf-8"},
                                                        {".svg", "image/svg+xml"},
                                                        {".png", "image/png"},
                                                        {".ico", "image/x-icon"},
                                                        {".json", "application/json"},
                                                        {".webmanifest", "application/manifest+json"},
                                                        {".woff2", "font/woff2"},
                                                        {".txt", "text/plain; charset=utf-8"}};
  const auto found = types.find(file.extension().string());
  return found == types.end() ? "application/octet-stream" : found->second;
}

api::Response notice(int status, const std::string& text) {
  api::Response response;
  response.status = status;
  response.content_type = "text/plain; charset=utf-8";
  response.set("Cache-Control", "no-store");
  response.body = std::make_shared<const std::string>(text + "\n");
  return response;
}

/// What the page of a household asks for first, so that a browser asks for it beside the scripts: a round trip less
/// before the first sentence. Only where its name needs no escape.
std::string asked_ahead(const std::string& household) {
  const bool plain =
      std::all_of(household.begin(), household.end(), [](unsigned char c) { return std::isalnum(c) != 0 || c == '-'; });
  if (household.empty() || !plain) return "";
  const std::string path = "/api/v1/households/" + household;
  const std::string how = ">; rel=preload; as=fetch; crossorigin";
  return "<" + path + "/forecast" + how + ", <" + path + how;
}

}  // namespace

bool accepts(const std::string& accept_encoding, const std::string& encoding) {
  std::istringstream list(accept_encoding);
  for (std::string one; std::getline(list, one, ',');) {
    const auto semicolon = one.find(';');
    if (trimmed(std::string_view(one).substr(0, semicolon)) != encoding) continue;
    if (semicolon == std::string::npos) return true;
    const auto weight = trimmed(std::string_view(one).substr(semicolon + 1));
    return weight.find_first_of("123456789") != std::string::npos;  // "q=0", "q=0.000" refuse it
  }
  return false;
}

bool has_content_hash(const std::string& name) {
  const auto hyphen = name.rfind('-');
  if (hyphen == std::string::npos) return false;
  const auto hash = name.substr(hyphen + 1, name.find('.', hyphen) - hyphen - 1);
  const bool plain = std::all_of(hash.begin(), hash.end(), [](unsigned char c) { return std::isalnum(c) != 0; });
  const bool looks_drawn = std::any_of(hash.begin(), hash.end(),
                                       [](unsigned char c) { return std::isdigit(c) != 0 || std::isupper(c) != 0; });
  return hash.size() >= 8 && plain && looks_drawn;
}

StaticFiles::StaticFiles(const std::filesystem::path& folder) {
  std::error_code none;
  if (folder.empty() || !std::filesystem::is_directory(folder, none)) return;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    const auto extension = entry.path().extension();
    if (!entry.is_regular_file() || extension == ".br" || extension == ".gz") continue;
    File file;
    file.content_type = content_type_of(entry.path());
    file.for_ever = has_content_hash(entry.path().filename().string());
    file.plain = read_file(entry.path());
    file.etag = "W/" + api::entity_tag(*file.plain);  // weak: one version in several encodings
    const std::string name = entry.path().string();
    if (std::filesystem::exists(name + ".br")) file.brotli = read_file(name + ".br");
    if (std::filesystem::exists(name + ".gz")) file.gzip = read_file(name + ".gz");
    files_[std::filesystem::relative(entry.path(), folder).generic_string()] = std::move(file);
  }
}

api::Response StaticFiles::get(const std::vector<std::string>& path, const std::string& accept_encoding,
                               const std::optional<std::string>& if_none_match) const {
  std::string name;
  for (const auto& segment : path) name += (name.empty() ? "" : "/") + segment;
  const bool page = name.empty() || name == "in" || path.front() == "h";
  const auto found = files_.find(page ? "index.html" : name);
  if (found == files_.end()) {
    if (page) return notice(503, "The pages are not built. The service itself answers at /api/v1/health.");
    return notice(404, "There is nothing at this address.");
  }
  const File& file = found->second;
  api::Response response;
  response.content_type = file.content_type;
  response.body = file.plain;
  response.set("ETag", file.etag);
  response.set("Vary", "Accept-Encoding");
  if (page && path.size() == 2) {
    if (const auto ahead = asked_ahead(path[1]); !ahead.empty()) response.set("Link", ahead);
  }
  response.set("Cache-Control", file.for_ever ? "public, max-age=31536000, immutable" : "no-cache");
  if (if_none_match && if_none_match->find(file.etag) != std::string::npos) {
    response.status = 304;
    response.body = nullptr;
  } else if (file.brotli && accepts(accept_encoding, "br")) {
    response.set("Content-Encoding", "br");
    response.body = file.brotli;
  } else if (file.gzip && accepts(accept_encoding, "gzip")) {
    response.set("Content-Encoding", "gzip");
    response.body = file.gzip;
  }
  return response;
}

}  // namespace cellarer::http
