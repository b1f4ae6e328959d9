// SPDX-License-Identifier: MIT
// Invitation codes, printed codes as they are typed. The first letter chooses.
#include "server/access/argon.hpp"
#include "server/access/secret_code.hpp"
#include "server/access/secrets.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

void base64url(std::string_view text) {
  const auto bytes = access::from_base64url(text);
  fuzz::must(!bytes || access::base64url(*bytes) == text);  // one way of writing
}

void typed_code(std::string_view text) {
  const auto code = access::read_secret_code(text);
  if (!code) return;
  fuzz::must(code->letters.size() == 20 && code->letters.substr(0, 5) == code->selector);
  const auto again = access::read_secret_code(access::printed(*code));
  fuzz::must(again && again->letters == code->letters && again->kind == code->kind);
}

/// A hash that stands in the store, were it ever a stranger's. Its own cost is what it takes: kept small here.
void stored_hash(std::string_view text) {
  if (text.find("m=") != std::string_view::npos) return;
  fuzz::must(!access::verify_typed_code("code", std::string(text)));
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  using Read = void (*)(std::string_view);
  const Read readers[] = {base64url, typed_code, stored_hash};
  readers[fuzz::choose(text, std::size(readers))](text);
  return 0;
}
