-- Gaugeline 1.0 and Heldmark's recordings for Wireshark and tshark.
--
--   tshark -X lua_script:protocol-spec/dissector/gaugeline.lua -r RECORDING.pcapng
--
-- Link type 147 (USER0) is a link's bytes, 148 (USER1) the station's events; a TCP stream is offered under "Decode As".
-- Bytes of one read may hold parts of messages: what is left over is kept per interface and direction, and a message is
-- shown in the packet that ends it. The rules are those of ../gaugeline-v1.md; what a receiver would drop is shown with
-- the reason. Sequence numbers are shown, not judged.

local gaugeline = Proto("gaugeline", "Gaugeline")
local station = Proto("heldmark", "Heldmark station event")

local BINDING = {auto = 0, bytes = 1, text = 2, gatt = 3}
gaugeline.prefs.binding = Pref.enum("Binding", 0, "How the bytes of a link are framed",
  {{1, "as each interface's name and first bytes say", 0}, {2, "byte stream", 1}, {3, "text lines", 2}, {4, "GATT values", 3}}, false)

local TYPES = {[0x01] = "describe", [0x02] = "samples", [0x03] = "status", [0x04] = "reply", [0x05] = "pong",
  [0x41] = "command", [0x42] = "ping"}
local OPCODES = {[1] = "describe", [2] = "start", [3] = "stop", [4] = "set rate", [5] = "identify",
  [6] = "read calibration", [7] = "write calibration", [8] = "status"}
local RESULTS = {[0] = "done", [1] = "unknown opcode", [2] = "bad arguments", [3] = "not now", [4] = "not supported",
  [5] = "storage failed"}

local f = {
  message = ProtoField.string("gaugeline.message", "Message"),
  json = ProtoField.string("gaugeline.json", "As JSON"),
  unusable = ProtoField.string("gaugeline.unusable", "Unusable"),
  type = ProtoField.uint8("gaugeline.type", "Type", base.HEX, TYPES),
  sequence = ProtoField.uint16("gaugeline.sequence", "Sequence"),
  tick = ProtoField.uint32("gaugeline.tick", "Tick"),
  status = ProtoField.uint8("gaugeline.status", "Status bits", base.HEX),
  mask = ProtoField.uint8("gaugeline.mask", "Channel mask", base.HEX),
  samples = ProtoField.uint8("gaugeline.samples", "Samples per channel"),
  counts = ProtoField.string("gaugeline.counts", "Counts"),
  opcode = ProtoField.uint8("gaugeline.opcode", "Opcode", base.DEC, OPCODES),
  token = ProtoField.uint8("gaugeline.token", "Token"),
  result = ProtoField.uint8("gaugeline.result", "Result", base.DEC, RESULTS),
  ping = ProtoField.uint16("gaugeline.ping", "Ping id"),
  line = ProtoField.string("gaugeline.line", "Line"),
}
gaugeline.fields = f

local bad = ProtoExpert.new("gaugeline.bad", "Unusable", expert.group.MALFORMED, expert.severity.WARN)
gaugeline.experts = {bad}

local interface_id = Field.new("frame.interface_id")
local interface_name = Field.new("frame.interface_name")
local direction = Field.new("frame.packet_flags_direction")

-- ---- small tools ----

local function u16(s, at) local a, b = s:byte(at, at + 1) return a + 256 * b end
local function u32(s, at) return u16(s, at) + 65536 * u16(s, at + 2) end
local function i16(s, at) local v = u16(s, at) return v < 32768 and v or v - 65536 end
local function i32(s, at) local v = u32(s, at) return v < 2147483648 and v or v - 4294967296 end
local function i24(s, at)
  local v = u16(s, at) + 65536 * s:byte(at + 2)
  return v < 8388608 and v or v - 16777216
end

local function f32(s, at)
  local bits = u32(s, at)
  local sign = bits >= 2147483648 and -1 or 1
  bits = bits % 2147483648
  local exponent, mantissa = math.floor(bits / 8388608), bits % 8388608
  if exponent == 255 then return mantissa == 0 and sign * math.huge or 0 / 0 end
  if exponent == 0 then return sign * math.ldexp(mantissa, -149) end
  return sign * math.ldexp(mantissa + 8388608, exponent - 150)
end

local CRC = {}
for byte = 0, 255 do
  local crc = byte * 256
  for _ = 1, 8 do
    crc = crc * 2
    if crc >= 65536 then crc = bit32.bxor(crc - 65536, 0x1021) end
  end
  CRC[byte] = crc
end

local function crc16(s)
  local crc = 0xFFFF
  for i = 1, #s do
    crc = bit32.bxor(crc % 256 * 256, CRC[bit32.bxor(math.floor(crc / 256), s:byte(i))])
  end
  return crc
end

local function hex(s) return (s:gsub(".", function(c) return string.format("%02x", c:byte()) end)) end

-- JSON of the few values that messages hold; an array is a table with n.
local function quote(s)
  return '"' .. s:gsub('[%c"\\]', function(c) return string.format("\\u%04x", c:byte()) end) .. '"'
end
local function json(value)
  if type(value) == "string" then return quote(value) end
  if type(value) == "number" then return value == math.floor(value) and math.abs(value) < 1e15 and string.format("%d", value) or string.format("%.9g", value) end
  local parts = {}
  if value.n then
    for i = 1, value.n do parts[i] = json(value[i]) end
    return "[" .. table.concat(parts, ",") .. "]"
  end
  for _, pair in ipairs(value) do parts[#parts + 1] = quote(pair[1]) .. ":" .. json(pair[2]) end
  return "{" .. table.concat(parts, ",") .. "}"
end
local function put(object, key, value)
  if value ~= nil then object[#object + 1] = {key, value} end
end
local function get(object, key)
  for _, pair in ipairs(object) do if pair[1] == key then return pair[2] end end
end
local function unless_zero(v) if v ~= 0 then return v end end
local function unless_empty(s) if s and s ~= "" then return s end end
local function array() return {n = 0} end
local function add(a, v) a.n = a.n + 1 a[a.n] = v end

-- ---- payloads (byte stream and GATT): return an object, or nil and the reason ----

local function is_text(s)
  local at = 1
  while at <= #s do
    local a, b = s:byte(at, at + 1)
    local n = a < 0x80 and 1 or a >= 0xC2 and a < 0xE0 and 2 or a >= 0xE0 and a < 0xF0 and 3 or a >= 0xF0 and a < 0xF5 and 4 or 0
    if n == 0 or at + n - 1 > #s or a < 0x20 or a == 0x7F or (a == 0xC2 and b < 0xA0) then return false end
    if (a == 0xE0 and b < 0xA0) or (a == 0xED and b > 0x9F) or (a == 0xF0 and b < 0x90) or (a == 0xF4 and b > 0x8F) then return false end
    for i = at + 1, at + n - 1 do
      if s:byte(i) < 0x80 or s:byte(i) > 0xBF then return false end
    end
    at = at + n
  end
  return true
end

local function is_date(d)
  local month, day = math.floor(d / 100) % 100, d % 100
  return d == 0 or (d >= 19000101 and d <= 99991231 and month >= 1 and month <= 12 and day >= 1 and day <= 31)
end

local function is_measure(v) return v >= 0 and v < math.huge end -- false for NaN

local function calibration(zero, slope, u, date)
  local out = {}
  if not (slope > -math.huge and slope < math.huge) or slope == 0 then return nil, "slope" end
  if u == u and not is_measure(u) then return nil, "relative uncertainty" end
  if not is_date(date) then return nil, "date" end
  put(out, "zeroCounts", zero)
  put(out, "newtonPerCount", slope)
  if u == u then put(out, "relativeStandardUncertainty", u) end
  put(out, "calibratedOn", unless_zero(date))
  return out
end

local function channel(index, bits, bandwidth, gain, rated, name)
  local out = {}
  if bits < 1 or bits > 32 then return nil, "ADC bits" end
  if not (is_measure(bandwidth) and is_measure(gain) and is_measure(rated)) then return nil, "a measure of a channel" end
  put(out, "index", index)
  put(out, "adcBits", bits)
  put(out, "bandwidthHz", unless_zero(bandwidth))
  put(out, "gain", unless_zero(gain))
  put(out, "ratedLoadN", unless_zero(rated))
  put(out, "name", unless_empty(name))
  return out
end

local function describe_object(major, minor, caps, tick, rate, texts, rates, channels)
  local out = {}
  put(out, "type", "describe")
  put(out, "version", major .. "." .. minor)
  put(out, "tickRateHz", tick)
  put(out, "sampleRateMilliHz", rate)
  put(out, "deviceId", texts[1])
  put(out, "capabilities", unless_zero(caps))
  put(out, "model", unless_empty(texts[2]))
  put(out, "firmware", unless_empty(texts[3]))
  put(out, "supportedRatesMilliHz", rates)
  put(out, "channels", channels)
  return out
end

local function parse_rates(value)
  local rates = array()
  if #value == 0 or #value % 4 ~= 0 or #value > 64 then return nil, "supported rates" end
  for i = 1, #value, 4 do
    if u32(value, i) == 0 then return nil, "supported rates" end
    add(rates, u32(value, i))
  end
  return rates
end

local function parse_channel(value, channels)
  if #value < 14 then return nil, "channel is cut" end
  local index = value:byte(1)
  local before = channels.n > 0 and get(channels[channels.n], "index") or -1
  if index > 7 or index <= before then return nil, "channel index" end
  if #value > 14 + 24 or not is_text(value:sub(15)) then return nil, "channel name" end
  return channel(index, value:byte(2), f32(value, 3), f32(value, 7), f32(value, 11), value:sub(15))
end

local function attach(channels, kept)
  for _, k in ipairs(kept) do
    local owner
    for i = 1, channels.n do if get(channels[i], "index") == k.channel then owner = channels[i] end end
    if not owner or get(owner, "calibration") then return "calibration of no channel, or a second one" end
    put(owner, "calibration", k.value)
  end
end

local function parse_describe(p)
  if #p < 2 then return nil, "shorter than its message" end
  if p:byte(1) ~= 1 then return {{"type", "unknown"}, {"typeCode", 1}, {"length", #p}} end
  if #p < 12 then return nil, "shorter than its message" end
  local texts, channels, kept, rates, at = {}, array(), {}, nil, 13
  while at <= #p do
    if at + 1 > #p or at + 1 + p:byte(at + 1) > #p then return nil, "an element is cut" end
    local tag, value = p:byte(at), p:sub(at + 2, at + 1 + p:byte(at + 1))
    at = at + 2 + #value
    if tag >= 1 and tag <= 3 then
      if texts[tag] or #value > 32 or not is_text(value) or (tag == 1 and value == "") then return nil, "a text" end
      texts[tag] = value
    elseif tag == 4 then
      if rates then return nil, "supported rates twice" end
      local reason
      rates, reason = parse_rates(value)
      if not rates then return nil, reason end
    elseif tag == 0x10 then
      local c, reason = parse_channel(value, channels)
      if not c then return nil, reason end
      add(channels, c)
    elseif tag == 0x11 then
      if #value < 17 then return nil, "calibration is cut" end
      local c, reason = calibration(i32(value, 2), f32(value, 6), f32(value, 10), u32(value, 14))
      if not c then return nil, reason end
      kept[#kept + 1] = {channel = value:byte(1), value = c}
    end
  end
  if not texts[1] or channels.n == 0 or u32(p, 5) == 0 or u32(p, 9) == 0 then return nil, "id, channel or a rate is missing" end
  local reason = attach(channels, kept)
  if reason then return nil, reason end
  return describe_object(1, p:byte(2), u16(p, 3), u32(p, 5), u32(p, 9), texts, rates, channels)
end

local function parse_samples(p)
  if #p < 8 then return nil, "shorter than its message" end
  local n, mask, channels = p:byte(7) % 32, p:byte(8), 0
  for i = 0, 7 do if math.floor(mask / 2 ^ i) % 2 == 1 then channels = channels + 1 end end
  local width = n * channels > 0 and (#p - 8) / (n * channels) or 0
  if width ~= 3 and width ~= 4 then return nil, "length fits neither width" end
  local rows, at = array(), 9
  for _ = 1, n do
    local row = array()
    for _ = 1, channels do
      add(row, width == 3 and i24(p, at) or i32(p, at))
      at = at + width
    end
    add(rows, row)
  end
  return {{"type", "samples"}, {"sequence", u16(p, 1)}, {"tick", u32(p, 3)}, {"status", math.floor(p:byte(7) / 32)},
    {"channelMask", mask}, {"counts", rows}}
end

local function parse_status(p)
  if #p < 15 then return nil, "shorter than its message" end
  local charge, deci = p:byte(5), i16(p, 6)
  if charge > 100 and charge < 255 then return nil, "charge" end
  local out = {{"type", "status"}, {"tick", u32(p, 1)}}
  if charge <= 100 then put(out, "batteryPercent", charge) end
  if deci ~= -32768 then put(out, "temperatureC", deci / 10) end
  put(out, "adcFaultCount", u16(p, 8))
  put(out, "lostSampleCount", u32(p, 10))
  put(out, "rejectedFrameCount", u16(p, 14))
  return out
end

local function parse_reply(p)
  if #p < 3 then return nil, "shorter than its message" end
  return {{"type", "reply"}, {"opcode", p:byte(1)}, {"token", p:byte(2)}, {"result", p:byte(3)}, #p > 3 and {"data", hex(p:sub(4))} or nil}
end
local function parse_command(p)
  if #p < 2 then return nil, "shorter than its message" end
  return {{"type", "command"}, {"opcode", p:byte(1)}, {"token", p:byte(2)}, #p > 2 and {"arguments", hex(p:sub(3))} or nil}
end
local function parse_pong(p)
  if #p < 10 then return nil, "shorter than its message" end
  return {{"type", "pong"}, {"pingId", u16(p, 1)}, {"receivedTick", u32(p, 3)}, {"transmittedTick", u32(p, 7)}}
end
local function parse_ping(p)
  if #p < 2 then return nil, "shorter than its message" end
  return {{"type", "ping"}, {"pingId", u16(p, 1)}}
end

local PARSERS = {[0x01] = parse_describe, [0x02] = parse_samples, [0x03] = parse_status, [0x04] = parse_reply,
  [0x05] = parse_pong, [0x41] = parse_command, [0x42] = parse_ping}

local function parse(code, payload)
  local parser = PARSERS[code]
  if not parser then return {{"type", "unknown"}, {"typeCode", code}, {"length", #payload}} end
  return parser(payload)
end

local function unstuff(wire)
  local out, at = {}, 1
  while at <= #wire do
    local code = wire:byte(at)
    if at + code - 1 > #wire then return nil end
    out[#out + 1] = wire:sub(at + 1, at + code - 1)
    at = at + code
    if code < 255 and at <= #wire then out[#out + 1] = "\0" end
  end
  return table.concat(out)
end

local function parse_frame(wire)
  if #wire > 515 then return nil, "longer than the limit" end
  local frame = unstuff(wire)
  if not frame then return nil, "a block of the stuffing reaches past the frame" end
  if #frame > 512 then return nil, "longer than the limit" end
  if #frame < 3 then return nil, "shorter than type and CRC" end
  if crc16(frame:sub(1, -3)) ~= u16(frame, #frame - 1) then return nil, "the check is wrong" end
  return parse(frame:byte(1), frame:sub(2, -3))
end

-- ---- text lines ----

local function split(line)
  local fields = {}
  for field in (line .. ","):gmatch("([^,]*),") do fields[#fields + 1] = field end
  return fields
end
local function whole(s, most)
  local v = s and s:match("^%d+$") and #s <= 20 and tonumber(s)
  if v and v <= most then return v end
end
local function unhex(s)
  if not s or s == "" then return "" end
  if #s % 2 == 1 or #s > 180 or not s:match("^[0-9A-F]+$") then return nil end
  return s:lower()
end

local function line_samples(t)
  local sequence, tick = whole(t[2], 65535), whole(t[3], 4294967295)
  local status = t[4] == "" and 0 or whole(t[4], 7)
  if not (sequence and tick and status) or #t < 5 or #t > 12 then return nil, "a field of S" end
  local row = array()
  for i = 5, #t do
    local v = t[i]:match("^%-?%d+$") and #t[i] <= 20 and tonumber(t[i])
    if not v or v < -2147483648 or v > 2147483647 then return nil, "counts" end
    add(row, v)
  end
  local rows = array()
  add(rows, row)
  return {{"type", "samples"}, {"sequence", sequence}, {"tick", tick}, {"status", status}, {"channelMask", 2 ^ row.n - 1}, {"counts", rows}}
end

local function line_status(t)
  local tick, out = whole(t[2], 4294967295), {{"type", "status"}}
  if not tick or #t < 7 then return nil, "a field of H" end
  put(out, "tick", tick)
  if t[3] ~= "" then
    if not whole(t[3], 100) then return nil, "charge" end
    put(out, "batteryPercent", tonumber(t[3]))
  end
  if t[4] ~= "" then
    local v = (t[4]:match("^%-?%d+$") or t[4]:match("^%-?%d+%.%d$")) and #t[4] < 12 and tonumber(t[4])
    if not v or v < -3276.7 or v > 3276.7 then return nil, "temperature" end
    put(out, "temperatureC", v)
  end
  local limits = {65535, 4294967295, 65535}
  for i, name in ipairs({"adcFaultCount", "lostSampleCount", "rejectedFrameCount"}) do
    local v = t[4 + i] == "" and 0 or whole(t[4 + i], limits[i])
    if not v then return nil, name end
    put(out, name, v)
  end
  return out
end

local function line_numbers(kind, names, limits)
  return function(t)
    local out = {{"type", kind}}
    for i, name in ipairs(names) do
      local v = whole(t[i + 1], limits[i])
      if not v then return nil, name end
      put(out, name, v)
    end
    return out
  end
end
local pong_line = line_numbers("pong", {"pingId", "receivedTick", "transmittedTick"}, {65535, 4294967295, 4294967295})
local ping_line = line_numbers("ping", {"pingId"}, {65535})

local function with_hex(kind, names, key)
  local numbers = line_numbers(kind, names, {255, 255, 255})
  return function(t)
    local out, reason = numbers(t)
    local data = unhex(t[#names + 2])
    if not out then return nil, reason end
    if not data then return nil, key end
    put(out, key, unless_empty(data))
    return out
  end
end

local function keys(t, from)
  local map = {}
  for i = from, #t do
    local key, value = t[i]:match("^([^=]+)=([^=]*)$")
    if not key or map[key] then return nil end
    map[key] = value
  end
  return map
end
-- Rounds to the nearest binary32, ties to even; nil where there is none.
local function to_f32(v)
  local _, exponent = math.frexp(v)
  local step = 2 ^ math.max(exponent - 24, -149)
  local whole, rest = math.modf(v / step)
  if math.abs(rest) > 0.5 or (math.abs(rest) == 0.5 and whole % 2 == 1) then whole = whole + (v < 0 and -1 or 1) end
  local rounded = whole * step
  if rounded == rounded and math.abs(rounded) < 2 ^ 128 then return rounded end
end
local function decimal(s, default)
  if not s or s == "" then return default end
  local body = s:match("^%-?(.*)$")
  local digits, exponent = body:match("^([%d%.]+)[eE][%+%-]?(%d+)$")
  digits = digits or body
  if not (digits:match("^%d+$") or digits:match("^%d+%.%d+$")) or (exponent and #exponent > 3) then return nil end
  return to_f32(tonumber(s))
end

-- A describe of several lines is gathered in the state of its direction.
local function line_describe(t, state)
  local k = t[2] and keys(t, 3)
  local major, minor = (t[2] or ""):match("^(%d+)%.(%d+)$")
  local before = state.describe
  state.describe = nil
  if not k and major == "1" or not whole(major, 255) or not whole(minor, 255) then return nil, "a field of D" end
  k = k or {}
  local d = {major = tonumber(major), minor = tonumber(minor), texts = {k.id, k.model, k.firmware}, channels = array(), kept = {}, lines = 0, bytes = 0}
  d.tick, d.rate = whole(k.tickhz, 4294967295), whole(k.ratemhz, 4294967295)
  d.caps = unless_empty(k.caps) and whole(k.caps, 65535) or (unless_empty(k.caps) and -1 or 0)
  d.ok = unless_empty(k.id) and #k.id <= 32 and (d.tick or 0) > 0 and (d.rate or 0) > 0 and d.caps >= 0
    and #(k.model or "") <= 32 and #(k.firmware or "") <= 32
  if unless_empty(k.rates) then
    d.rates = array()
    for rate in (k.rates .. "/"):gmatch("([^/]*)/") do
      local v = whole(rate, 4294967295)
      d.ok = d.ok and v and v > 0
      add(d.rates, v or 0)
    end
    d.ok = d.ok and d.rates.n <= 16
  end
  state.describe = d
  if before then return nil, "the describe before has no end" end
  if not d.ok and d.major == 1 then return nil, "a field of D" end
  return false
end
local function line_channel(t, state)
  local d, k = state.describe, keys(t, 3)
  if not d then return nil, "C without D" end
  if d.major ~= 1 then return false end
  d.lines = d.lines + 1
  local bits = k and whole(k.bits, 32)
  local a, b, c = k and decimal(k.bandwidthhz, 0), k and decimal(k.gain, 0), k and decimal(k.ratedn, 0)
  local made = bits and a and b and c and whole(t[2], 7) == d.channels.n and #(k.name or "") <= 24
    and channel(d.channels.n, bits, a, b, c, k.name)
  if not made then d.ok = false return nil, "a field of C" end
  add(d.channels, made)
  return false
end
local function line_calibration(t, state)
  local d, k = state.describe, keys(t, 3)
  if not d then return nil, "K without D" end
  if d.major ~= 1 then return false end
  d.lines = d.lines + 1
  local index, zero = whole(t[2], 7), k and k.zero and k.zero:match("^%-?%d+$") and tonumber(k.zero)
  local slope, u = k and decimal(k.slope), k and decimal(k.u, 0 / 0)
  local date = k and (unless_empty(k.date) and whole(k.date, 99991231) or (not unless_empty(k.date) and 0))
  local made = index and zero and slope and u and date and calibration(zero, slope, u, date)
  if not made then d.ok = false return nil, "a field of K" end
  d.kept[#d.kept + 1] = {channel = index, value = made}
  return false
end
local function line_end(t, state)
  local d = state.describe
  state.describe = nil
  if not d then return nil, "E without D" end
  if d.major ~= 1 then return {{"type", "unknown"}, {"typeCode", 1}, {"length", d.bytes}} end
  if t[2] and whole(t[2], 1000) ~= d.lines then return nil, "a line of the describe is missing" end
  if not d.ok or d.channels.n == 0 or attach(d.channels, d.kept) then return nil, "a line of the describe is unusable" end
  return describe_object(d.major, d.minor, d.caps, d.tick, d.rate, d.texts, d.rates, d.channels)
end

local LINES = {S = line_samples, H = line_status, O = pong_line, P = ping_line, D = line_describe, C = line_channel,
  K = line_calibration, E = line_end, R = with_hex("reply", {"opcode", "token", "result"}, "data"),
  Q = with_hex("command", {"opcode", "token"}, "arguments")}

local function read_line(line, state)
  line = line:gsub("\r$", "")
  if #line > 200 then return nil, "longer than the limit" end
  if line == "" then return false end
  if line:find("[^\32-\126]") then return nil, "bytes that are not printable ASCII" end
  if line:sub(1, 1) == "#" then return false end
  if line:find("*", 1, true) then
    local body, check = line:match("^([^*]*)%*([0-9A-F][0-9A-F][0-9A-F][0-9A-F])$")
    if not body then return nil, "a check of another form" end
    if crc16(body) ~= tonumber(check, 16) then return nil, "the check is wrong" end
    line = body
  end
  local t = split(line)
  if not t[1]:match("^[A-Z]$") then return nil, "the first field is not a letter" end
  local parser = LINES[t[1]]
  if not parser then return {{"type", "unknown"}, {"typeCode", t[1]:byte()}, {"length", #line}} end
  return parser(t, state)
end

-- Returns an object; false for what says nothing by itself; nil and the reason. An unusable line between D and E discards
-- the describe.
local function parse_line(line, state)
  local open = state.describe
  if open then open.bytes = open.bytes + #line + 1 end
  local message, reason = read_line(line, state)
  if state.describe and state.describe ~= open then state.describe.bytes = #line + 1 end
  if message == nil and open and state.describe == open then open.ok = false end
  return message, reason
end

-- ---- what is shown ----

local function summary(m)
  local kind = get(m, "type")
  if kind == "samples" then
    return string.format("samples %d: %d at tick %d%s", get(m, "sequence"), get(m, "counts").n, get(m, "tick"),
      get(m, "status") > 0 and ", status " .. get(m, "status") or "")
  elseif kind == "describe" then
    return "describe " .. get(m, "deviceId") .. ", " .. get(m, "sampleRateMilliHz") / 1000 .. " Hz"
  elseif kind == "command" then
    return "command " .. (OPCODES[get(m, "opcode")] or get(m, "opcode"))
  elseif kind == "reply" then
    return "reply to " .. (OPCODES[get(m, "opcode")] or get(m, "opcode")) .. ": " .. (RESULTS[get(m, "result")] or "not done")
  elseif kind == "ping" or kind == "pong" then
    return kind .. " " .. get(m, "pingId")
  elseif kind == "unknown" then
    return "unknown message"
  end
  return kind
end

local DETAILS = {{"sequence", f.sequence}, {"tick", f.tick}, {"status", f.status}, {"channelMask", f.mask},
  {"opcode", f.opcode}, {"token", f.token}, {"result", f.result}, {"pingId", f.ping}}

local function show(tree, range, wire, message, reason)
  if message == false then return nil end
  if not message then
    local item = tree:add(f.unusable, range, reason):set_generated()
    item:add_proto_expert_info(bad, reason)
    return "unusable: " .. reason
  end
  local text = summary(message)
  local item = tree:add(f.message, range, text)
  for _, detail in ipairs(DETAILS) do
    local value = get(message, detail[1])
    if value then item:add(detail[2], range, value) end
  end
  if get(message, "counts") then
    item:add(f.samples, range, get(message, "counts").n)
    item:add(f.counts, range, json(get(message, "counts")))
  end
  if wire then item:add(f.line, range, wire) end
  item:add(f.json, range, json(message)):set_generated()
  return text
end

local states, seen = {}, {}
function gaugeline.init() states, seen = {}, {} end

local function binding_of(state, bytes, name)
  if gaugeline.prefs.binding ~= BINDING.auto then return gaugeline.prefs.binding end
  if state.binding then return state.binding end
  if name:match("^ble:") or name:match("binding=gatt") then state.binding = BINDING.gatt
  elseif name:match("binding=text") then state.binding = BINDING.text
  elseif name:match("binding=bytes") then state.binding = BINDING.bytes
  elseif bytes:find("\0", 1, true) then return BINDING.bytes -- until a message decides
  else return BINDING.text end
  return state.binding
end

-- Cuts the chunk into messages; returns a list of {wire, is text} and what is left.
local function cut(bytes, binding)
  local found, from = {}, 1
  for at = 1, #bytes do
    local byte = bytes:byte(at)
    if (binding == BINDING.bytes and byte == 0) or (binding == BINDING.text and byte == 10) then
      if at > from then found[#found + 1] = bytes:sub(from, at - 1) end
      from = at + 1
    end
  end
  return found, bytes:sub(from)
end

local function decode(bytes, state, name)
  local binding = binding_of(state, bytes, name)
  local results = {}
  if binding == BINDING.gatt then
    local kinds = {[0x57] = 0x01, [0x58] = 0x02}
    local first = bytes:byte(1)
    local code, payload = kinds[first], bytes:sub(2)
    if first == 0x59 or first == 0x5A then code, payload = bytes:byte(2), bytes:sub(3) end
    local belongs = kinds[first] or (first == 0x59 and (code == 0x41 or code == 0x42))
      or (first == 0x5A and (code == 3 or code == 4 or code == 5)) or (code and not TYPES[code] and (first == 0x59 or first == 0x5A))
    if #bytes > 513 then results[1] = {reason = "longer than the limit"}
    elseif not belongs then results[1] = {reason = "no characteristic, or a type that does not belong to it"}
    else
      local message, reason = parse(code, payload)
      results[1] = {message = message, reason = reason}
    end
    return results, ""
  end
  local messages, rest = cut(bytes, binding)
  for _, wire in ipairs(messages) do
    local message, reason
    if binding == BINDING.bytes then
      message, reason = parse_frame(wire)
      if message == nil and wire:find("\n", 1, true) then
        for line in wire:gmatch("([^\n]*)\n?") do -- the station asks in both bindings at first
          local asked = line ~= "" and parse_line(line, state)
          if asked then results[#results + 1] = {message = asked, wire = line} message = false end
        end
      elseif message then
        state.binding = state.binding or BINDING.bytes
      end
    else
      message, reason = parse_line(wire, state)
      if message and get(message, "type") ~= "unknown" then state.binding = state.binding or BINDING.text end
    end
    results[#results + 1] = {message = message, reason = reason, wire = binding == BINDING.text and wire or nil}
  end
  return results, rest
end

function gaugeline.dissector(tvb, pinfo, root)
  pinfo.cols.protocol = "Gaugeline"
  local key = pinfo.number
  if not seen[key] then
    local id, way = interface_id(), direction()
    local place = (id and id.value or 0) .. "/" .. (way and way.value or 0) .. "/" .. tostring(pinfo.src_port)
    local name = interface_name() and tostring(interface_name().value) or ""
    states[place] = states[place] or {rest = ""}
    local state = states[place]
    local results, rest = decode(state.rest .. tvb:raw(0, tvb:len()), state, name)
    state.rest = rest
    seen[key] = {results = results, rest = #rest}
  end
  local tree = root:add(gaugeline, tvb())
  local texts = {}
  for _, r in ipairs(seen[key].results) do
    local text = show(tree, tvb(), r.wire, r.message, r.reason)
    if text then texts[#texts + 1] = text end
  end
  if seen[key].rest > 0 then tree:append_text(", " .. seen[key].rest .. " bytes of a message that goes on") end
  pinfo.cols.info = #texts > 0 and table.concat(texts, " | ") or tvb:len() .. " bytes"
  return tvb:len()
end

function station.dissector(tvb, pinfo, root)
  pinfo.cols.protocol = "Heldmark"
  root:add(station, tvb())
  local text = tvb():string()
  Dissector.get("json"):call(tvb, pinfo, root)
  pinfo.cols.protocol = "Heldmark"
  pinfo.cols.info = #text > 120 and text:sub(1, 117) .. "..." or text
end

local encapsulations = DissectorTable.get("wtap_encap")
encapsulations:add(wtap.USER0, gaugeline)
encapsulations:add(wtap.USER1, station)
DissectorTable.get("tcp.port"):add_for_decode_as(gaugeline)
