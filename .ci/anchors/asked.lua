-- Requests that differ each from the last, by a counter, so that no cache helps.
-- Argument: what is asked. A thread begins where no other comes to.
local kinds = {
  conversions = function(i)
    return string.format("/v1/conversions?reading=%d.%05d(2)%%20mS/cm&temperature=%d.%d(5)%%20C",
      10 + i % 40, math.floor(i / 40) % 100000, 15 + i % 15, i % 10)
  end,
  cell = function(i)
    return string.format("/v1/conversions?reading=%d.%05d%%20mS/cm&temperature=25%%20C&only=density&format=text",
      10 + i % 40, math.floor(i / 40) % 100000)
  end,
  salt = function(i)
    return string.format("/v1/mixes/salt?target=%d.%04d%%20ppt&volume=%d%%20L&temperature=%d%%20C",
      5 + i % 25, math.floor(i / 25) % 10000, 50 + i % 400, 20 + i % 10)
  end,
  species = function(i) return "/v1/species/scatophagus-argus?again=" .. i end,
  search = function(i) return "/v1/species?q=scat&again=" .. i end,
  page = function(i) return "/?again=" .. i end,
}

local threads = 0
function setup(thread)
  thread:set("first", threads * 100000000)
  threads = threads + 1
end

local ask
local i
function init(args)
  ask, i = kinds[args[1]], first
end

function request()
  i = i + 1
  return wrk.format("GET", ask(i))
end

function done(summary, latency)
  io.write(string.format("RESULT %.1f %.3f %d\n", summary.requests / summary.duration * 1e6,
    latency:percentile(99) / 1000, summary.errors.status + summary.errors.connect + summary.errors.read + summary.errors.write + summary.errors.timeout))
end
