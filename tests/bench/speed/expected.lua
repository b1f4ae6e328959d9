-- SPDX-License-Identifier: MIT
-- Records readings as they are expected, with the time of the write: arguments KEY (of this run), COOKIE, FILE (a line
-- each: HOUSEHOLD, a space, the reading's own fields as JSON without braces), MEAN_PAUSE_MS (of each connection between
-- an answer and its next request; 0: none), LOOKS (yes: the household's page is asked for before its reading is sent),
-- DONE (so many of the file's readings were sent before).
local key, cookie, mean_pause_ms, looks, readings, turn, sent, number
local ahead = 16 -- so many readings later comes that of the home whose page is asked for
function init(arguments)
  key, cookie, mean_pause_ms, looks = arguments[1], arguments[2], tonumber(arguments[4]), arguments[5] == 'yes'
  readings, turn, sent, number = {}, 0, tonumber(arguments[6]), 0
  for line in io.lines(arguments[3]) do
    local household, fields = line:match('^(%S+) (.+)$')
    readings[#readings + 1] = { path = '/api/v1/households/' .. household, fields = fields }
  end
  math.randomseed(1)
end
-- As many people do who know nothing of each other: the pauses are exponential.
function delay() return mean_pause_ms > 0 and math.floor(-mean_pause_ms * math.log(1 - math.random()) + 0.5) or 0 end
function request()
  turn = turn + 1
  if looks and turn % 2 == 1 then
    local one = readings[(sent + ahead) % #readings + 1]
    return wrk.format('GET', one.path, { ['Cookie'] = cookie })
  end
  sent, number = sent + 1, number + 1
  local one = readings[sent % #readings + 1]
  return wrk.format('POST', one.path .. '/readings',
    { ['Content-Type'] = 'application/json', ['Cookie'] = cookie, ['Idempotency-Key'] = key .. '-' .. number },
    string.format('{"at": "%s", %s}', os.date('!%Y-%m-%dT%H:%M:%SZ'), one.fields))
end
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format('{"requests": %d, "seconds": %.6f, "refused": %d, "broken": %d, "p50_ms": %.3f, "p99_ms": %.3f}\n',
    summary.requests, summary.duration / 1e6, errors.status, errors.connect + errors.read + errors.write + errors.timeout,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3))
end
