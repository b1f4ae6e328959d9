-- SPDX-License-Identifier: MIT
-- Asks for the same, each time in other words: arguments COOKIE.
local cookie, sent
function init(arguments) cookie, sent = arguments[1], 0 end
function request()
  sent = sent + 1
  return wrk.format('GET', nil, { ['Cookie'] = cookie, ['X-Number'] = sent })
end
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format('{"requests": %d, "seconds": %.6f, "refused": %d, "broken": %d, "p50_ms": %.3f, "p99_ms": %.3f}\n',
    summary.requests, summary.duration / 1e6, errors.status, errors.connect + errors.read + errors.write + errors.timeout,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3))
end
