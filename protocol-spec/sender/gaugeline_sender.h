/*
 * Gaugeline 1.0 for senders: a load cell's side of the protocol in one header, portable C99.
 *
 * No heap, no other library, no floating-point arithmetic (binary32 values are moved as bits). One copy of the code goes
 * where GAUGELINE_SENDER_IMPLEMENTATION is defined before this header is included; elsewhere it only declares.
 *
 *     #define GAUGELINE_SENDER_IMPLEMENTATION
 *     #include "gaugeline_sender.h"
 *
 * Use: fill a gl_device and a gl_port, call gl_begin once, then from the main loop
 *
 *   - gl_push for every conversion (the tick taken in the data-ready interrupt),
 *   - gl_receive for every byte that came from the station,
 *   - gl_poll as often as you like: it sends describe and status when they are due,
 *   - gl_lost when conversions were missed.
 *
 * None of it may be called from an interrupt. Rules in brackets name a section of gaugeline-v1.md.
 *
 * Licensed under the Apache License, Version 2.0, as the whole project.
 */
#ifndef GAUGELINE_SENDER_H
#define GAUGELINE_SENDER_H

#include <stddef.h>
#include <stdint.h>

/* 1 leaves a binding in, 0 out. With both in, gl_begin chooses. */
#ifndef GL_WITH_BYTES
#define GL_WITH_BYTES 1
#endif
#ifndef GL_WITH_TEXT
#define GL_WITH_TEXT 1
#endif

/* 0: a sender that reads nothing. It streams by itself and repeats its describe. */
#ifndef GL_WITH_COMMANDS
#define GL_WITH_COMMANDS 1
#endif

/* Channels that there is room for, 1 to 8. */
#ifndef GL_CHANNELS
#define GL_CHANNELS 1
#endif

/* Longest frame before stuffing, up to 512. It must hold describe and a samples message. */
#ifndef GL_FRAME_BYTES
#define GL_FRAME_BYTES 160
#endif

#ifdef __cplusplus
extern "C" {
#endif

/* Bits of a samples message's status [samples]. */
enum { GL_OVERLOAD = 1, GL_ADC_FAULT = 2, GL_DEVICE_LOSS = 4 };

/* Results of a command [reply]. */
enum { GL_DONE = 0, GL_UNKNOWN = 1, GL_BAD_ARGUMENTS = 2, GL_NOT_NOW = 3, GL_NOT_SUPPORTED = 4, GL_STORAGE_FAILED = 5 };

enum { GL_BYTES = 0, GL_TEXT = 1 };

/* One channel [describe]. 0 in a float, NULL in the name: not known. */
typedef struct {
  uint8_t adc_bits; /* 1 to 32 */
  float bandwidth_hz;
  float gain;
  float rated_load_n;
  const char *name; /* at most 24 bytes; text binding: printable ASCII without , * = */
} gl_channel;

/* forceN = (counts - zero) x slope [calibration]. A slope of 0: there is none. */
typedef struct {
  int32_t zero_counts;
  float newton_per_count;
  float relative_u; /* relative standard uncertainty of the slope; NaN: unknown */
  uint32_t date;    /* YYYYMMDD; 0: unknown */
} gl_calibration;

/* What describe says of the device. Texts and arrays must live as long as the sender. */
typedef struct {
  const char *id; /* 1 to 32 bytes, of this one device */
  const char *model;    /* or NULL */
  const char *firmware; /* or NULL */
  uint32_t tick_rate_hz;
  const uint32_t *rates_mhz; /* supported rates; the first is the one at power-up */
  uint8_t rate_count;        /* 1 to 16 */
  uint8_t channel_count;     /* 1 to GL_CHANNELS */
  const gl_channel *channels;
  uint8_t bytes_per_count;     /* 3 or 4; text ignores it */
  uint8_t samples_per_message; /* 1 to 31; fewer are sent where they would span over 50 ms; text sends one */
  uint8_t text_checks;         /* text: whether lines end with checks */
} gl_device;

/* What a status message tells of the device beside its counters [status]. */
typedef struct {
  uint8_t charge_percent; /* 255: unknown */
  int16_t temperature_dc; /* 0.1 degC; -32768: unknown */
} gl_health;

/* What the board does for the sender. `write` and `tick` are needed, the rest may be NULL: then it is not supported. */
typedef struct {
  void *context;
  void (*write)(void *context, const uint8_t *bytes, uint16_t count); /* takes all of it */
  uint32_t (*tick)(void *context);                                    /* the counter that also stamps conversions */
  void (*health)(void *context, gl_health *health);
  void (*stream)(void *context, uint8_t on);            /* told when the stream starts and stops */
  uint8_t (*set_rate)(void *context, uint32_t rate_mhz); /* returns a result */
  uint8_t (*identify)(void *context, uint8_t seconds);
  /* Stores a calibration so that it survives power-down; returns GL_NOT_NOW while no switch allows it [Security]. */
  uint8_t (*store)(void *context, uint8_t channel, const gl_calibration *calibration);
} gl_port;

enum { GL_RX_BYTES = 64 };

/* A sender. Fields are its own. */
typedef struct {
  const gl_device *device;
  const gl_port *port;
  gl_calibration calibration[GL_CHANNELS];
  uint32_t rate_mhz;
  uint32_t described_tick, status_tick;
  uint32_t lost_samples;
  uint32_t first_tick;
  uint16_t sequence, adc_faults, frames_rejected;
  uint16_t frame_length;
  uint8_t binding, streaming, pending, pending_status, loss_before;
  uint8_t frame[GL_FRAME_BYTES];
#if GL_WITH_COMMANDS
  uint16_t rx_length, rx_crc, rx_star;
  uint8_t rx_code, rx_left, rx_any, rx_bad, rx_held[2];
  uint8_t rx[GL_RX_BYTES];
#endif
} gl_sender;

/* Readies a sender and sends what a device sends at power-up. Returns 0 where describe does not fit GL_FRAME_BYTES, or a
 * limit of the specification is not kept: nothing is sent then. `calibrations` may be NULL. */
uint8_t gl_begin(gl_sender *s, uint8_t binding, const gl_device *device, const gl_port *port,
                 const gl_calibration *calibrations);

/* Takes one conversion of every channel, in their order. `tick`: when the conversion ended. `status`: bits above. */
void gl_push(gl_sender *s, uint32_t tick, uint8_t status, const int32_t *counts);

/* Sends what gl_push has kept back, so that the next message starts anew; for holes and changes of rate. */
void gl_flush(gl_sender *s);

/* Counts samples that the device could not send; the next message says that some are missing before it. */
void gl_lost(gl_sender *s, uint16_t samples);

/* Sends describe and status when they are due. */
void gl_poll(gl_sender *s);

void gl_send_describe(gl_sender *s);
void gl_send_status(gl_sender *s);

/* Whether samples are wanted at present. */
uint8_t gl_streaming(const gl_sender *s);

#if GL_WITH_COMMANDS
/* Takes one byte from the station. `tick`: when it had arrived; right to the length of a byte at the line's speed. */
void gl_receive(gl_sender *s, uint8_t byte, uint32_t tick);
#endif

#ifdef __cplusplus
}
#endif
#endif /* GAUGELINE_SENDER_H */

#ifdef GAUGELINE_SENDER_IMPLEMENTATION
#ifndef GAUGELINE_SENDER_IMPLEMENTED
#define GAUGELINE_SENDER_IMPLEMENTED

#include <string.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { GL_T_DESCRIBE = 1, GL_T_SAMPLES = 2, GL_T_STATUS = 3, GL_T_REPLY = 4, GL_T_PONG = 5, GL_T_COMMAND = 0x41, GL_T_PING = 0x42 };
enum { GL_CALIBRATION_BYTES = 17, GL_LINE_LIMIT = 200, GL_FRAME_LIMIT = 512, GL_ARGUMENTS_LIMIT = 90 };

static uint16_t gl_crc(uint16_t crc, uint8_t byte) {
  crc ^= (uint16_t)((uint16_t)byte << 8);
  for (uint8_t bit = 0; bit < 8; bit++) crc = (uint16_t)((crc << 1) ^ (crc & 0x8000 ? 0x1021 : 0));
  return crc;
}

static uint32_t gl_bits(float value) {
  uint32_t bits;
  memcpy(&bits, &value, sizeof bits);
  return bits;
}

static uint8_t gl_finite(float value) { return (gl_bits(value) & 0x7F800000UL) != 0x7F800000UL; }

/* ---- writing: a message under construction in a buffer of its own ---- */

typedef struct {
  gl_sender *s;
  uint8_t *at;
  uint16_t length, room;
  uint16_t crc;
} gl_out;

static gl_out gl_open(gl_sender *s, uint8_t *buffer, uint16_t room) {
  gl_out o;
  o.s = s;
  o.at = buffer;
  o.length = 0;
  o.room = room;
  o.crc = 0xFFFF;
  return o;
}

#if GL_WITH_BYTES || GL_WITH_COMMANDS
static void gl_put8(gl_out *o, uint8_t value) {
  if (o->length < o->room) o->at[o->length] = value;
  o->length++;
}

static void gl_put16(gl_out *o, uint16_t value) {
  gl_put8(o, (uint8_t)value);
  gl_put8(o, (uint8_t)(value >> 8));
}

static void gl_put32(gl_out *o, uint32_t value) {
  gl_put16(o, (uint16_t)value);
  gl_put16(o, (uint16_t)(value >> 16));
}

static void gl_put_calibration(gl_out *o, uint8_t channel, const gl_calibration *c) {
  gl_put8(o, channel);
  gl_put32(o, (uint32_t)c->zero_counts);
  gl_put32(o, gl_bits(c->newton_per_count));
  gl_put32(o, gl_bits(c->relative_u));
  gl_put32(o, c->date);
}
#endif

static uint16_t gl_capabilities(const gl_sender *s) {
#if GL_WITH_COMMANDS
  return (uint16_t)(1 | 2 | 16 | (s->port->set_rate ? 4 : 0) | (s->port->identify ? 8 : 0) | (s->port->store ? 32 : 0));
#else
  (void)s;
  return 0;
#endif
}

#if GL_WITH_BYTES
/* Adds the CRC, stuffs on the way out, ends with 0x00 [Byte-stream binding]. */
static void gl_send_frame(gl_out *o) {
  const gl_port *port = o->s->port;
  uint16_t crc = 0xFFFF, from = 0, n = (uint16_t)(o->length + 2);
  if (n > o->room) return; /* gl_begin has seen to it that nothing is ever too long */
  for (uint16_t i = 0; i < o->length; i++) crc = gl_crc(crc, o->at[i]);
  gl_put16(o, crc);
  for (;;) {
    uint8_t code = 1;
    while (code < 255 && from + code - 1 < n && o->at[from + code - 1]) code++;
    port->write(port->context, &code, 1);
    if (code > 1) port->write(port->context, o->at + from, (uint16_t)(code - 1));
    from = (uint16_t)(from + code - 1);
    if (from >= n) break;
    if (code < 255) from++; /* the zero that the block stands for */
  }
  {
    uint8_t end = 0;
    port->write(port->context, &end, 1);
  }
}

static void gl_put_text(gl_out *o, const char *text) {
  while (text && *text) gl_put8(o, (uint8_t)*text++);
}

static void gl_put_element(gl_out *o, uint8_t tag, const char *text) {
  if (!text || !*text) return;
  gl_put8(o, tag);
  gl_put8(o, (uint8_t)strlen(text));
  gl_put_text(o, text);
}

static void gl_build_describe(gl_out *o) {
  const gl_sender *s = o->s;
  const gl_device *d = s->device;
  gl_put8(o, GL_T_DESCRIBE);
  gl_put8(o, 1);
  gl_put8(o, 0);
  gl_put16(o, gl_capabilities(s));
  gl_put32(o, d->tick_rate_hz);
  gl_put32(o, s->rate_mhz);
  gl_put_element(o, 0x01, d->id);
  gl_put_element(o, 0x02, d->model);
  gl_put_element(o, 0x03, d->firmware);
  if (d->rate_count > 1) {
    gl_put8(o, 0x04);
    gl_put8(o, (uint8_t)(4 * d->rate_count));
    for (uint8_t i = 0; i < d->rate_count; i++) gl_put32(o, d->rates_mhz[i]);
  }
  for (uint8_t i = 0; i < d->channel_count; i++) {
    const gl_channel *c = &d->channels[i];
    gl_put8(o, 0x10);
    gl_put8(o, (uint8_t)(14 + (c->name ? strlen(c->name) : 0)));
    gl_put8(o, i);
    gl_put8(o, c->adc_bits);
    gl_put32(o, gl_bits(c->bandwidth_hz));
    gl_put32(o, gl_bits(c->gain));
    gl_put32(o, gl_bits(c->rated_load_n));
    gl_put_text(o, c->name);
  }
  for (uint8_t i = 0; i < d->channel_count; i++) {
    if (!(gl_bits(s->calibration[i].newton_per_count) << 1)) continue;
    gl_put8(o, 0x11);
    gl_put8(o, GL_CALIBRATION_BYTES);
    gl_put_calibration(o, i, &s->calibration[i]);
  }
}
#endif

#if GL_WITH_TEXT
/* Text goes out in pieces, so a line needs no room of its own. */
static void gl_line_flush(gl_out *o) {
  if (o->length) o->s->port->write(o->s->port->context, o->at, o->length);
  o->length = 0;
}

static void gl_char(gl_out *o, char c) {
  if (o->length == o->room) gl_line_flush(o);
  o->at[o->length++] = (uint8_t)c;
  if (o->s->device->text_checks) o->crc = gl_crc(o->crc, (uint8_t)c);
}

static void gl_chars(gl_out *o, const char *text) {
  while (text && *text) gl_char(o, *text++);
}

static void gl_unsigned(gl_out *o, uint32_t value) {
  char digits[10];
  uint8_t n = 0;
  do digits[n++] = (char)('0' + value % 10);
  while (value /= 10);
  while (n) gl_char(o, digits[--n]);
}

static void gl_signed(gl_out *o, int32_t value) {
  if (value < 0) gl_char(o, '-');
  gl_unsigned(o, value < 0 ? 0 - (uint32_t)value : (uint32_t)value);
}

static void gl_field(gl_out *o, uint32_t value) {
  gl_char(o, ',');
  gl_unsigned(o, value);
}

static void gl_hex(gl_out *o, uint8_t byte) {
  gl_char(o, "0123456789ABCDEF"[byte >> 4]);
  gl_char(o, "0123456789ABCDEF"[byte & 15]);
}

static void gl_line_end(gl_out *o) {
  if (o->s->device->text_checks) {
    uint16_t crc = o->crc;
    gl_char(o, '*');
    gl_hex(o, (uint8_t)(crc >> 8));
    gl_hex(o, (uint8_t)crc);
  }
  gl_char(o, '\n');
  gl_line_flush(o);
  o->crc = 0xFFFF;
}

/* Half of the distance to the next binary32, for a value of `scaled` whose mantissa is `mantissa`: any decimal number
 * within it reads back as the same binary32. */
static uint8_t gl_reads_back(uint64_t candidate, uint64_t scaled, uint32_t mantissa) {
  uint64_t off = candidate > scaled ? candidate - scaled : scaled - candidate;
  return off * 2 < scaled / mantissa;
}

/* A finite binary32 as the decimal number with the fewest digits that reads back as it, in integers only. */
static void gl_number(gl_out *o, float value) {
  uint32_t bits = gl_bits(value);
  uint32_t mantissa = bits & 0x7FFFFFUL;
  int16_t two = (int16_t)((bits >> 23) & 255);
  int16_t ten = 0;
  uint64_t m, unit;
  uint8_t digits = 1;
  char text[12];
  if (bits >> 31 && bits << 1) gl_char(o, '-');
  if (!(bits << 1)) {
    gl_char(o, '0');
    return;
  }
  if (two) mantissa |= 0x800000UL;
  two = (int16_t)((two ? two : 1) - 150);
  /* value = m 2^two 10^ten; brought to two = 0 with m from 10^15 to 10^16 */
  m = mantissa;
  while (two > 0 || m < 1000000000000000ULL) {
    if (two > 0 && m < 0x0800000000000000ULL) {
      m <<= 1;
      two--;
    } else if (two > 0) {
      m = (m + 5) / 10;
      ten++;
    } else if (m < 0x0CCCCCCCCCCCCCCCULL) {
      m *= 10;
      ten--;
    }
  }
  while (two < 0) {
    if (m < 0x0CCCCCCCCCCCCCCCULL) {
      m *= 10;
      ten--;
    }
    m = (m + 1) >> 1;
    two++;
  }
  while (m >= 10000000000000000ULL) {
    m = (m + 5) / 10;
    ten++;
  }
  while (m < 1000000000000000ULL) {
    m *= 10;
    ten--;
  }
  for (unit = 1000000000000000ULL; digits < 9; digits++, unit /= 10) {
    if (gl_reads_back((m + unit / 2) / unit * unit, m, mantissa)) break;
  }
  m = (m + unit / 2) / unit;
  ten = (int16_t)(ten + 15); /* exponent of the first digit */
  {
    uint64_t limit = 1;
    for (uint8_t i = 0; i < digits; i++) limit *= 10;
    if (m >= limit) {
      m /= 10;
      ten++;
    }
  }
  for (uint8_t i = digits; i;) {
    text[--i] = (char)('0' + (uint8_t)(m % 10));
    m /= 10;
  }
  while (digits > 1 && text[digits - 1] == '0') digits--;
  if (ten >= -4 && ten < 9) {
    int16_t at = ten < 0 ? ten : 0;
    for (; at < digits || at <= ten; at++) {
      if (at == ten + 1) gl_char(o, '.');
      gl_char(o, at < 0 || at >= digits ? '0' : text[at]);
    }
    return;
  }
  gl_char(o, text[0]);
  if (digits > 1) gl_char(o, '.');
  for (uint8_t i = 1; i < digits; i++) gl_char(o, text[i]);
  gl_char(o, 'e');
  gl_char(o, ten < 0 ? '-' : '+');
  if (ten < 0) ten = (int16_t)-ten;
  gl_char(o, (char)('0' + ten / 10));
  gl_char(o, (char)('0' + ten % 10));
}

static void gl_key(gl_out *o, const char *key) {
  gl_char(o, ',');
  gl_chars(o, key);
  gl_char(o, '=');
}

static void gl_text_field(gl_out *o, const char *key, const char *text) {
  if (!text || !*text) return;
  gl_key(o, key);
  gl_chars(o, text);
}

static void gl_number_field(gl_out *o, const char *key, float value) {
  if (!(gl_bits(value) << 1)) return;
  gl_key(o, key);
  gl_number(o, value);
}

static void gl_line_describe(gl_out *o) {
  const gl_sender *s = o->s;
  const gl_device *d = s->device;
  uint8_t lines = d->channel_count;
  gl_chars(o, "D,1.0");
  gl_text_field(o, "id", d->id);
  gl_key(o, "tickhz");
  gl_unsigned(o, d->tick_rate_hz);
  gl_key(o, "ratemhz");
  gl_unsigned(o, s->rate_mhz);
  gl_text_field(o, "model", d->model);
  gl_text_field(o, "firmware", d->firmware);
  if (gl_capabilities(s)) {
    gl_key(o, "caps");
    gl_unsigned(o, gl_capabilities(s));
  }
  if (d->rate_count > 1) {
    gl_key(o, "rates");
    for (uint8_t i = 0; i < d->rate_count; i++) {
      if (i) gl_char(o, '/');
      gl_unsigned(o, d->rates_mhz[i]);
    }
  }
  gl_line_end(o);
  for (uint8_t i = 0; i < d->channel_count; i++) {
    const gl_channel *c = &d->channels[i];
    gl_chars(o, "C");
    gl_field(o, i);
    gl_key(o, "bits");
    gl_unsigned(o, c->adc_bits);
    gl_text_field(o, "name", c->name);
    gl_number_field(o, "bandwidthhz", c->bandwidth_hz);
    gl_number_field(o, "gain", c->gain);
    gl_number_field(o, "ratedn", c->rated_load_n);
    gl_line_end(o);
  }
  for (uint8_t i = 0; i < d->channel_count; i++) {
    const gl_calibration *c = &s->calibration[i];
    if (!(gl_bits(c->newton_per_count) << 1)) continue;
    lines++;
    gl_chars(o, "K");
    gl_field(o, i);
    gl_key(o, "zero");
    gl_signed(o, c->zero_counts);
    gl_key(o, "slope");
    gl_number(o, c->newton_per_count);
    if (gl_finite(c->relative_u)) {
      gl_key(o, "u");
      gl_number(o, c->relative_u);
    }
    if (c->date) {
      gl_key(o, "date");
      gl_unsigned(o, c->date);
    }
    gl_line_end(o);
  }
  gl_char(o, 'E');
  gl_field(o, lines);
  gl_line_end(o);
}
#endif

/* ---- messages ---- */

static uint8_t gl_is_text(const gl_sender *s) { return GL_WITH_TEXT && (!GL_WITH_BYTES || s->binding == GL_TEXT); }

void gl_send_describe(gl_sender *s) {
  gl_out o;
  gl_flush(s); /* the frame's room is shared */
  o = gl_open(s, s->frame, GL_FRAME_BYTES);
  s->described_tick = s->port->tick(s->port->context);
#if GL_WITH_TEXT
  if (gl_is_text(s)) gl_line_describe(&o);
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    gl_build_describe(&o);
    gl_send_frame(&o);
  }
#endif
}

void gl_send_status(gl_sender *s) {
  uint8_t buffer[20];
  gl_out o = gl_open(s, buffer, sizeof buffer);
  gl_health h = {255, -32768};
  uint32_t tick = s->port->tick(s->port->context);
  if (s->port->health) s->port->health(s->port->context, &h);
  s->status_tick = tick;
#if GL_WITH_TEXT
  if (gl_is_text(s)) {
    gl_char(&o, 'H');
    gl_field(&o, tick);
    gl_char(&o, ',');
    if (h.charge_percent <= 100) gl_unsigned(&o, h.charge_percent);
    gl_char(&o, ',');
    if (h.temperature_dc != -32768) {
      uint16_t size = (uint16_t)(h.temperature_dc < 0 ? -h.temperature_dc : h.temperature_dc);
      if (h.temperature_dc < 0) gl_char(&o, '-');
      gl_unsigned(&o, size / 10);
      if (size % 10) {
        gl_char(&o, '.');
        gl_unsigned(&o, size % 10);
      }
    }
    gl_field(&o, s->adc_faults);
    gl_field(&o, s->lost_samples);
    gl_field(&o, s->frames_rejected);
    gl_line_end(&o);
  }
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    gl_put8(&o, GL_T_STATUS);
    gl_put32(&o, tick);
    gl_put8(&o, h.charge_percent);
    gl_put16(&o, (uint16_t)h.temperature_dc);
    gl_put16(&o, s->adc_faults);
    gl_put32(&o, s->lost_samples);
    gl_put16(&o, s->frames_rejected);
    gl_send_frame(&o);
  }
#endif
}

void gl_flush(gl_sender *s) {
#if GL_WITH_BYTES
  if (s->pending && !gl_is_text(s)) {
    gl_out o = gl_open(s, s->frame, GL_FRAME_BYTES);
    o.length = s->frame_length;
    s->frame[7] = (uint8_t)(s->pending | s->pending_status << 5);
    gl_send_frame(&o);
    s->sequence++;
  }
#endif
  s->pending = 0;
  s->pending_status = 0;
}

void gl_push(gl_sender *s, uint32_t tick, uint8_t status, const int32_t *counts) {
  const gl_device *d = s->device;
  if (status & GL_ADC_FAULT) s->adc_faults++;
  if (!s->streaming) return;
  if (s->loss_before) {
    gl_flush(s);
    status |= GL_DEVICE_LOSS;
    s->loss_before = 0;
  }
#if GL_WITH_TEXT
  if (gl_is_text(s)) {
    uint8_t buffer[16];
    gl_out o = gl_open(s, buffer, sizeof buffer);
    gl_char(&o, 'S');
    gl_field(&o, s->sequence++);
    gl_field(&o, tick);
    gl_char(&o, ',');
    if (status) gl_unsigned(&o, status);
    for (uint8_t i = 0; i < d->channel_count; i++) {
      gl_char(&o, ',');
      gl_signed(&o, counts[i]);
    }
    gl_line_end(&o);
    return;
  }
#endif
#if GL_WITH_BYTES
  {
    gl_out o = gl_open(s, s->frame, GL_FRAME_BYTES);
    if (!s->pending) {
      gl_put8(&o, GL_T_SAMPLES);
      gl_put16(&o, s->sequence);
      gl_put32(&o, tick);
      gl_put8(&o, 0);
      gl_put8(&o, (uint8_t)((1U << d->channel_count) - 1));
    } else {
      o.length = s->frame_length;
    }
    for (uint8_t i = 0; i < d->channel_count; i++) {
      gl_put16(&o, (uint16_t)(uint32_t)counts[i]);
      gl_put8(&o, (uint8_t)((uint32_t)counts[i] >> 16));
      if (d->bytes_per_count == 4) gl_put8(&o, (uint8_t)((uint32_t)counts[i] >> 24));
    }
    s->frame_length = o.length;
    s->pending_status |= status;
    /* A lower rate makes a message longer in time: with one sample more it would span over 50 ms [Timing]. */
    if (++s->pending >= d->samples_per_message || s->pending * 20000UL > s->rate_mhz) gl_flush(s);
  }
#endif
}

void gl_lost(gl_sender *s, uint16_t samples) {
  s->lost_samples += samples;
  s->loss_before = 1;
}

uint8_t gl_streaming(const gl_sender *s) { return s->streaming; }

static uint8_t gl_passed(const gl_sender *s, uint32_t since, uint8_t seconds) {
  uint32_t ticks = s->port->tick(s->port->context) - since;
  return ticks / seconds >= s->device->tick_rate_hz;
}

void gl_poll(gl_sender *s) {
  if (!GL_WITH_COMMANDS && gl_passed(s, s->described_tick, 5)) gl_send_describe(s);
  if (s->streaming && gl_passed(s, s->status_tick, 5)) gl_send_status(s);
}

static uint8_t gl_text_fits(const char *text, uint8_t least, uint8_t most) {
  size_t n = text ? strlen(text) : 0;
  return n >= least && n <= most;
}

static uint8_t gl_keeps_limits(gl_sender *s) {
  const gl_device *d = s->device;
  if (!d->tick_rate_hz || d->rate_count < 1 || d->rate_count > 16) return 0;
  if (d->channel_count < 1 || d->channel_count > GL_CHANNELS || d->channel_count > 8) return 0;
  if (!gl_text_fits(d->id, 1, 32) || !gl_text_fits(d->model, 0, 32) || !gl_text_fits(d->firmware, 0, 32)) return 0;
  for (uint8_t i = 0; i < d->rate_count; i++) {
    if (!d->rates_mhz[i]) return 0;
  }
  for (uint8_t i = 0; i < d->channel_count; i++) {
    const gl_channel *c = &d->channels[i];
    if (c->adc_bits < 1 || c->adc_bits > 32 || !gl_text_fits(c->name, 0, 24)) return 0;
    if (!gl_finite(c->bandwidth_hz) || !gl_finite(c->gain) || !gl_finite(c->rated_load_n)) return 0;
  }
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    uint16_t samples = (uint16_t)(9 + 2 + d->samples_per_message * d->channel_count * d->bytes_per_count);
    gl_out o = gl_open(s, s->frame, GL_FRAME_BYTES);
    if (d->samples_per_message < 1 || d->samples_per_message > 31) return 0;
    if (d->bytes_per_count < 3 || d->bytes_per_count > 4 || samples > GL_FRAME_BYTES) return 0;
    gl_build_describe(&o);
    if (o.length + 2 > GL_FRAME_BYTES || o.length + 2 > GL_FRAME_LIMIT) return 0;
  }
#endif
  return 1;
}

uint8_t gl_begin(gl_sender *s, uint8_t binding, const gl_device *device, const gl_port *port,
                 const gl_calibration *calibrations) {
  memset(s, 0, sizeof *s);
  s->binding = binding;
  s->device = device;
  s->port = port;
  if (device->rate_count) s->rate_mhz = device->rates_mhz[0];
  if (calibrations && device->channel_count <= GL_CHANNELS) {
    memcpy(s->calibration, calibrations, device->channel_count * sizeof *calibrations);
  }
  if (!gl_keeps_limits(s)) return 0;
#if GL_WITH_COMMANDS
  s->rx_crc = 0xFFFF;
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    uint8_t zero = 0; /* ends whatever noise came before [Byte-stream binding] */
    port->write(port->context, &zero, 1);
  }
#endif
  s->status_tick = port->tick(port->context);
  gl_send_describe(s);
  s->streaming = !GL_WITH_COMMANDS;
  return 1;
}

/* ---- what the station says ---- */

#if GL_WITH_COMMANDS
static void gl_reply(gl_sender *s, uint8_t opcode, uint8_t token, uint8_t result, uint8_t calibration_of) {
  uint8_t buffer[32], data[GL_CALIBRATION_BYTES], count = 0;
  gl_out o = gl_open(s, data, sizeof data);
  if (calibration_of < GL_CHANNELS) {
    gl_put_calibration(&o, calibration_of, &s->calibration[calibration_of]);
    count = GL_CALIBRATION_BYTES;
  }
  o = gl_open(s, buffer, sizeof buffer);
#if GL_WITH_TEXT
  if (gl_is_text(s)) {
    gl_char(&o, 'R');
    gl_field(&o, opcode);
    gl_field(&o, token);
    gl_field(&o, result);
    if (count) gl_char(&o, ',');
    for (uint8_t i = 0; i < count; i++) gl_hex(&o, data[i]);
    gl_line_end(&o);
  }
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    gl_put8(&o, GL_T_REPLY);
    gl_put8(&o, opcode);
    gl_put8(&o, token);
    gl_put8(&o, result);
    for (uint8_t i = 0; i < count; i++) gl_put8(&o, data[i]);
    gl_send_frame(&o);
  }
#endif
}

static void gl_pong(gl_sender *s, uint16_t id, uint32_t received) {
  uint8_t buffer[16];
  gl_out o = gl_open(s, buffer, sizeof buffer);
#if GL_WITH_TEXT
  if (gl_is_text(s)) {
    gl_char(&o, 'O');
    gl_field(&o, id);
    gl_field(&o, received);
    gl_field(&o, s->port->tick(s->port->context));
    gl_line_end(&o);
  }
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) {
    gl_put8(&o, GL_T_PONG);
    gl_put16(&o, id);
    gl_put32(&o, received);
    gl_put32(&o, s->port->tick(s->port->context));
    gl_send_frame(&o);
  }
#endif
}

static uint32_t gl_get32(const uint8_t *p) {
  return p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 | (uint32_t)p[3] << 24;
}

static float gl_get_float(const uint8_t *p) {
  uint32_t bits = gl_get32(p);
  float value;
  memcpy(&value, &bits, sizeof value);
  return value;
}

static uint8_t gl_is_date(uint32_t date) {
  uint8_t month = (uint8_t)(date / 100 % 100), day = (uint8_t)(date % 100);
  if (!date) return 1;
  return date >= 19000101UL && date <= 99991231UL && month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

static uint8_t gl_write_calibration(gl_sender *s, const uint8_t *p) {
  gl_calibration c;
  uint32_t u;
  uint8_t result;
  c.zero_counts = (int32_t)gl_get32(p + 1);
  c.newton_per_count = gl_get_float(p + 5);
  c.relative_u = gl_get_float(p + 9);
  c.date = gl_get32(p + 13);
  u = gl_get32(p + 9);
  if (p[0] >= s->device->channel_count || !gl_is_date(c.date)) return GL_BAD_ARGUMENTS;
  if (!gl_finite(c.newton_per_count) || !(gl_bits(c.newton_per_count) << 1)) return GL_BAD_ARGUMENTS;
  if ((u << 1) >= 0xFF000000UL ? (u << 1) == 0xFF000000UL : (u >> 31 && u << 1)) return GL_BAD_ARGUMENTS;
  result = s->port->store(s->port->context, p[0], &c);
  if (result == GL_DONE) s->calibration[p[0]] = c;
  return result;
}

static uint8_t gl_set_rate(gl_sender *s, uint32_t rate_mhz) {
  const gl_device *d = s->device;
  uint8_t result = GL_BAD_ARGUMENTS;
  for (uint8_t i = 0; i < d->rate_count; i++) {
    if (d->rates_mhz[i] != rate_mhz) continue;
    gl_flush(s); /* last samples at the old rate, describe, reply, samples at the new [A device's states] */
    result = s->port->set_rate(s->port->context, rate_mhz);
    if (result == GL_DONE) s->rate_mhz = rate_mhz;
    break;
  }
  return result;
}

static void gl_set_streaming(gl_sender *s, uint8_t on) {
  if (!on) gl_flush(s);
  if (s->streaming != on) {
    s->streaming = on;
    s->status_tick = s->port->tick(s->port->context);
    if (s->port->stream) s->port->stream(s->port->context, on);
  }
}

/* Carries out a command. `n`: bytes of arguments that came; at most GL_CALIBRATION_BYTES of them are kept. */
static void gl_command(gl_sender *s, uint8_t opcode, uint8_t token, const uint8_t *arguments, uint16_t n) {
  static const uint8_t lengths[9] = {0, 0, 0, 0, 4, 1, 1, GL_CALIBRATION_BYTES, 0};
  const gl_port *port = s->port;
  uint8_t result = GL_DONE, calibration_of = 255;
  if (opcode < 1 || opcode > 8) {
    result = GL_UNKNOWN;
  } else if ((opcode == 4 && !port->set_rate) || (opcode == 5 && !port->identify) || (opcode == 7 && !port->store)) {
    result = GL_NOT_SUPPORTED;
  } else if (n != lengths[opcode]) {
    result = GL_BAD_ARGUMENTS;
  } else if (opcode == 1) {
    gl_send_describe(s);
  } else if (opcode == 2 || opcode == 3) {
    if (opcode == 3) gl_set_streaming(s, 0);
  } else if (opcode == 4) {
    result = gl_set_rate(s, gl_get32(arguments));
  } else if (opcode == 5) {
    result = port->identify(port->context, arguments[0]);
  } else if (opcode == 6) {
    if (arguments[0] >= s->device->channel_count) {
      result = GL_BAD_ARGUMENTS;
    } else if (!(gl_bits(s->calibration[arguments[0]].newton_per_count) << 1)) {
      result = GL_NOT_SUPPORTED;
    } else {
      calibration_of = arguments[0];
    }
  } else if (opcode == 7) {
    result = gl_write_calibration(s, arguments);
  } else {
    gl_send_status(s);
  }
  if ((opcode == 4 || opcode == 7) && result == GL_DONE) gl_send_describe(s);
  if (result == GL_UNKNOWN || result == GL_BAD_ARGUMENTS || result == GL_NOT_NOW) s->frames_rejected++;
  gl_reply(s, opcode, token, result, calibration_of);
  if (opcode == 2 && result == GL_DONE) gl_set_streaming(s, 1);
}

#if GL_WITH_BYTES
static void gl_rx_store(gl_sender *s, uint8_t byte) {
  /* The last two bytes are the CRC: held back until it is known that they are the last. */
  if (s->rx_length >= 2) {
    s->rx_crc = gl_crc(s->rx_crc, s->rx_held[0]);
    if (s->rx_length - 2 < GL_RX_BYTES) s->rx[s->rx_length - 2] = s->rx_held[0];
  }
  s->rx_held[0] = s->rx_held[1];
  s->rx_held[1] = byte;
  if (s->rx_length <= GL_FRAME_LIMIT) s->rx_length++;
}

static void gl_rx_frame_end(gl_sender *s, uint32_t tick) {
  uint16_t n = s->rx_length;
  uint16_t crc = (uint16_t)(s->rx_held[0] | s->rx_held[1] << 8);
  if (s->rx_bad || s->rx_left || n < 3 || n > GL_FRAME_LIMIT || crc != s->rx_crc) {
    s->frames_rejected++;
  } else if (s->rx[0] == GL_T_COMMAND && n >= 5) {
    gl_command(s, s->rx[1], s->rx[2], s->rx + 3, (uint16_t)(n - 5));
  } else if (s->rx[0] == GL_T_PING && n >= 5) {
    gl_pong(s, (uint16_t)(s->rx[1] | s->rx[2] << 8), tick);
  } else if (s->rx[0] == GL_T_COMMAND || s->rx[0] == GL_T_PING) {
    s->frames_rejected++;
  }
}

static void gl_receive_frame(gl_sender *s, uint8_t byte, uint32_t tick) {
  if (byte) {
    if (s->rx_left) {
      gl_rx_store(s, byte);
      s->rx_left--;
      return;
    }
    if (s->rx_any && s->rx_code != 255) gl_rx_store(s, 0);
    s->rx_any = 1;
    s->rx_code = byte;
    s->rx_left = (uint8_t)(byte - 1);
    return;
  }
  if (s->rx_any) gl_rx_frame_end(s, tick);
  s->rx_length = 0;
  s->rx_crc = 0xFFFF;
  s->rx_any = s->rx_left = s->rx_bad = 0;
}
#endif

#if GL_WITH_TEXT
static int8_t gl_digit(uint8_t c) {
  if (c >= '0' && c <= '9') return (int8_t)(c - '0');
  return c >= 'A' && c <= 'F' ? (int8_t)(c - 'A' + 10) : -1;
}

/* Reads a whole number up to `most` that ends at a comma or the end; moves on behind the comma. 0: it is none. */
static uint8_t gl_read(const uint8_t **at, const uint8_t *end, uint32_t most, uint32_t *value) {
  const uint8_t *p = *at;
  *value = 0;
  if (p >= end || *p == ',') return 0;
  for (; p < end && *p != ','; p++) {
    if (*p < '0' || *p > '9') return 0;
    *value = *value * 10 + (uint32_t)(*p - '0');
    if (*value > most) return 0;
  }
  *at = p < end ? p + 1 : p;
  return 1;
}

/* Hex to bytes, as many as are kept; returns how many there were, 255 where it is no hex or more than may be. `cut`: how
 * many characters of a long line were not kept. */
static uint8_t gl_read_hex(const uint8_t *p, const uint8_t *end, uint16_t cut, uint8_t *bytes) {
  uint16_t n = 0;
  for (; p < end && *p != ','; p += 2, n++) {
    if (p + 1 < end && gl_digit(p[0]) >= 0 && gl_digit(p[1]) >= 0) {
      if (n < GL_CALIBRATION_BYTES) bytes[n] = (uint8_t)(gl_digit(p[0]) << 4 | gl_digit(p[1]));
    } else if (!cut || p + 1 < end) {
      return 255;
    } else {
      cut++; /* the first digit of the pair that was cut */
      p++;
      break;
    }
  }
  if (p >= end) {
    if (cut % 2) return 255;
    n = (uint16_t)(n + cut / 2);
  }
  return n > GL_ARGUMENTS_LIMIT ? 255 : (uint8_t)n;
}

static void gl_rx_line(gl_sender *s, uint16_t length, uint32_t tick) {
  uint16_t kept = length < GL_RX_BYTES ? length : GL_RX_BYTES;
  const uint8_t *at = s->rx + 2, *end = s->rx + kept;
  uint8_t arguments[GL_CALIBRATION_BYTES], n;
  uint32_t a, b;
  uint8_t letter = s->rx[0];
  if (letter >= 'A' && letter <= 'Z' && (length == 1 || s->rx[1] == ',')) {
    if (letter != 'Q' && letter != 'P') return;
    if (letter == 'P' && gl_read(&at, end, 65535, &a)) {
      gl_pong(s, (uint16_t)a, tick);
      return;
    }
    if (letter == 'Q' && gl_read(&at, end, 255, &a) && gl_read(&at, end, 255, &b)) {
      n = gl_read_hex(at, end, (uint16_t)(length - kept), arguments);
      if (n < 255) {
        gl_command(s, (uint8_t)a, (uint8_t)b, arguments, n);
        return;
      }
    }
  }
  s->frames_rejected++;
}

static uint8_t gl_check_holds(const gl_sender *s) {
  uint16_t check = (uint16_t)(s->rx_held[0] << 8 | s->rx_held[1]); /* the digits so far; rx_code counts them */
  return s->rx_code == 4 && check == s->rx_crc;
}

static void gl_receive_line(gl_sender *s, uint8_t byte, uint32_t tick) {
  if (byte == '\n') {
    uint8_t remark = s->rx_any && s->rx[0] == '#';
    if (s->rx_length > GL_LINE_LIMIT) {
      s->frames_rejected++;
    } else if (s->rx_any && !remark) {
      if (s->rx_bad || (s->rx_star && !gl_check_holds(s))) {
        s->frames_rejected++;
      } else if (s->rx_length) {
        gl_rx_line(s, s->rx_star ? (uint16_t)(s->rx_star - 1) : s->rx_length, tick);
      }
    }
    s->rx_length = s->rx_star = 0;
    s->rx_crc = 0xFFFF;
    s->rx_any = s->rx_bad = s->rx_left = s->rx_code = 0;
    return;
  }
  if (s->rx_left) s->rx_bad = 1; /* a CR that no LF follows */
  if (byte == '\r') {
    s->rx_left = 1;
    return;
  }
  s->rx_any = 1;
  if (byte < 0x20 || byte > 0x7E) s->rx_bad = 1;
  if (s->rx_length < GL_RX_BYTES) s->rx[s->rx_length] = byte;
  if (s->rx_length <= GL_LINE_LIMIT) s->rx_length++;
  if (s->rx_star) {
    int8_t digit = gl_digit(byte);
    if (digit < 0 || s->rx_code == 4) {
      s->rx_bad = 1;
    } else {
      s->rx_held[s->rx_code / 2] = (uint8_t)(s->rx_held[s->rx_code / 2] << 4 | digit);
      s->rx_code++;
    }
  } else if (byte == '*') {
    s->rx_star = s->rx_length;
  } else {
    s->rx_crc = gl_crc(s->rx_crc, byte);
  }
}
#endif

void gl_receive(gl_sender *s, uint8_t byte, uint32_t tick) {
#if GL_WITH_TEXT
  if (gl_is_text(s)) gl_receive_line(s, byte, tick);
#endif
#if GL_WITH_BYTES
  if (!gl_is_text(s)) gl_receive_frame(s, byte, tick);
#endif
}
#endif /* GL_WITH_COMMANDS */

#ifdef __cplusplus
}
#endif
#endif /* GAUGELINE_SENDER_IMPLEMENTED */
#endif /* GAUGELINE_SENDER_IMPLEMENTATION */
