-- SPDX-License-Identifier: MIT
-- wrk's result as one line of JSON.
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format('{"requests": %d, "seconds": %.6f, "refused": %d, "broken": %d, "p50_ms": %.3f, "p99_ms": %.3f}\n',
    summary.requests, summary.duration / 1e6, errors.status, errors.connect + errors.read + errors.write + errors.timeout,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3))
end
