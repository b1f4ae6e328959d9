-- SPDX-License-Identifier: MIT
-- Records readings, of which the entry alone is asked back: arguments KEY (of this run), COOKIE, WHEN (RFC 3339),
-- PAUSE_MS (of each connection), HOUSEHOLD...
local key, cookie, body, pause_ms, households, sent
function init(arguments)
  key, cookie, pause_ms = arguments[1], arguments[2], tonumber(arguments[4])
  body = string.format('{"at": "%s", "side": "left", "percent": 62}', arguments[3])
  households, sent = {}, 0
  for i = 5, #arguments do households[#households + 1] = arguments[i] end
end
function delay() return pause_ms end
function request()
  sent = sent + 1
  local household = households[sent % #households + 1]
  return wrk.format('POST', '/api/v1/households/' .. household .. '/readings',
    { ['Content-Type'] = 'application/json', ['Cookie'] = cookie, ['Idempotency-Key'] = key .. '-' .. sent, ['Prefer'] = 'return=minimal' }, body)
end
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format('{"requests": %d, "seconds": %.6f, "refused": %d, "broken": %d, "p50_ms": %.3f, "p99_ms": %.3f}\n',
    summary.requests, summary.duration / 1e6, errors.status, errors.connect + errors.read + errors.write + errors.timeout,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3))
end
