-- SPDX-License-Identifier: MIT
-- Records readings as they are expected, with the time of the write: arguments KEY (of this run), COOKIE, FILE (a line
-- each: HOUSEHOLD, a space, the reading's own fields as JSON without braces), MEAN_PAUSE_MS (of each connection between
-- an answer and its next request; 0: none), LOOKS (before: the household's page is asked for before its reading is sent;
-- after: the reading alone is recorded, and then the household's forecast is asked for; no), DONE (so many of the file's
-- readings were sent before).
local key, cookie, mean_pause_ms, looks, readings, turn, sent, number
local apart = 16 -- so many readings lie between a home's reading and what is asked for before or after it
function init(arguments)
  key, cookie, mean_pause_ms, looks = arguments[1], arguments[2], tonumber(arguments[4]), arguments[5]
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
  if looks == 'before' and turn % 2 == 1 then
    local one = readings[(sent + apart) % #readings + 1]
    return wrk.format('GET', one.path, { ['Cookie'] = cookie })
  end
  if looks == 'after' and turn % 2 == 1 and number > apart then
    local one = readings[(sent - apart) % #readings + 1]
    return wrk.format('GET', one.path .. '/forecast', { ['Cookie'] = cookie })
  end
  sent, number = sent + 1, number + 1
  local one = readings[sent % #readings + 1]
  return wrk.format('POST', one.path .. '/readings',
    { ['Content-Type'] = 'application/json', ['Cookie'] = cookie, ['Idempotency-Key'] = key .. '-' .. number,
      ['Prefer'] = looks == 'after' and 'return=minimal' or nil },
    string.format('{"at": "%s", %s}', os.date('!%Y-%m-%dT%H:%M:%SZ'), one.fields))
end
function done(summary, latency)
  local errors = summary.errors
  io.write(string.format('{"requests": %d, "seconds": %.6f, "refused": %d, "broken": %d, "p50_ms": %.3f, "p99_ms": %.3f}\n',
    summary.requests, summary.duration / 1e6, errors.status, errors.connect + errors.read + errors.write + errors.timeout,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3))
end
