/*
 * Lets a test drive the sender: one operation a line on standard input, one line of hex (what the sender wrote) each on
 * standard output.
 *
 *   device BINDING CHECKS ID MODEL FIRMWARE TICKHZ RATES CHANNELS   "-" where absent; RATES a/b/c
 *   channel BITS BANDWIDTH GAIN RATED NAME                           numbers as binary32 bits in hex
 *   calibration CHANNEL ZERO SLOPE U DATE
 *   open WIDTH SAMPLES                                               begins, discards what power-up sends
 *   describe | rate MHZ | tick TICK
 *   health CHARGE TEMPERATURE FAULTS LOST REJECTED
 *   status | poll
 *   samples SEQUENCE TICK STATUS COUNTS...                           one message of as many samples as `open` said
 *   reply OPCODE TOKEN RESULT CHANNEL                                CHANNEL 255: without data
 *   pong ID RECEIVED
 *   receive HEX
 *   rejected                                                         prints the counter instead of bytes
 */
#define GL_CHANNELS 8
#define GL_FRAME_BYTES 512
#define GAUGELINE_SENDER_IMPLEMENTATION
#include "../gaugeline_sender.h"

#include <stdio.h>
#include <stdlib.h>

static gl_sender sender;
static gl_device device;
static gl_port port;
static gl_channel channels[8];
static gl_calibration calibrations[8];
static gl_health health = {255, -32768};
static uint32_t rates[16];
static uint32_t now;
static char texts[16][40];
static int used_texts, binding, quiet;

static void take(void *context, const uint8_t *bytes, uint16_t count) {
  (void)context;
  for (uint16_t i = 0; i < count && !quiet; i++) printf("%02x", bytes[i]);
}

static uint32_t tick(void *context) {
  (void)context;
  return now;
}

static void tell_health(void *context, gl_health *h) {
  (void)context;
  *h = health;
}

#if GL_WITH_COMMANDS
static uint8_t set_rate(void *context, uint32_t rate_mhz) {
  (void)context;
  (void)rate_mhz;
  return GL_DONE;
}

static uint8_t identify(void *context, uint8_t seconds) {
  (void)context;
  (void)seconds;
  return GL_DONE;
}

static uint8_t store(void *context, uint8_t channel, const gl_calibration *c) {
  (void)context;
  (void)channel;
  return c->date == 19991231UL ? GL_NOT_NOW : GL_DONE;
}
#endif

static char *word(void) { return strtok(NULL, " \n"); }

static uint32_t number(void) {
  const char *w = word();
  return w ? (uint32_t)strtoll(w, NULL, 10) : 0;
}

static float real(void) {
  uint32_t bits = (uint32_t)strtoul(word(), NULL, 16);
  float value;
  memcpy(&value, &bits, sizeof value);
  return value;
}

static const char *text(void) {
  const char *w = word();
  if (!w || !strcmp(w, "-")) return NULL;
  char *kept = texts[used_texts++];
  size_t n = strlen(w) / 2;
  for (size_t i = 0; i < n; i++) {
    unsigned byte;
    sscanf(w + 2 * i, "%2x", &byte);
    kept[i] = (char)byte;
  }
  kept[n] = 0;
  return kept;
}

static void set_device(void) {
  char *list, *end;
  memset(&device, 0, sizeof device);
  memset(calibrations, 0, sizeof calibrations);
  memset(channels, 0, sizeof channels);
  used_texts = 0;
  binding = (int)number();
  device.text_checks = (uint8_t)number();
  device.id = text();
  device.model = text();
  device.firmware = text();
  device.tick_rate_hz = number();
  device.rates_mhz = rates;
  for (list = word(); *list; list = *end ? end + 1 : end) {
    rates[device.rate_count++] = (uint32_t)strtoul(list, &end, 10);
  }
  device.channels = channels;
}

static void add_channel(void) {
  gl_channel *c = &channels[device.channel_count++];
  c->adc_bits = (uint8_t)number();
  c->bandwidth_hz = real();
  c->gain = real();
  c->rated_load_n = real();
  c->name = text();
}

static void set_calibration(void) {
  gl_calibration *c = &calibrations[number()];
  c->zero_counts = (int32_t)number();
  c->newton_per_count = real();
  c->relative_u = real();
  c->date = number();
}

static void open_sender(void) {
  port.write = take;
  port.tick = tick;
  port.health = tell_health;
#if GL_WITH_COMMANDS
  port.set_rate = set_rate;
  port.identify = identify;
  port.store = store;
#endif
  device.bytes_per_count = (uint8_t)number();
  device.samples_per_message = (uint8_t)number();
  quiet = 1;
  if (!gl_begin(&sender, (uint8_t)binding, &device, &port, calibrations)) printf("refused");
  quiet = 0;
}

static void send_samples(void) {
  int32_t counts[8];
  uint16_t sequence = (uint16_t)number();
  uint32_t at = number();
  uint8_t status = (uint8_t)number();
  sender.sequence = sequence;
  sender.streaming = 1;
  const uint32_t rate = sender.rate_mhz;
  sender.rate_mhz = 0xFFFFFFFFUL; /* no message is cut for its length in time: the vectors know no rate */
  for (int i = 0; i < device.samples_per_message; i++) {
    for (int c = 0; c < device.channel_count; c++) counts[c] = (int32_t)number();
    gl_push(&sender, at, status, counts);
  }
  sender.rate_mhz = rate;
}

#if GL_WITH_COMMANDS
static void receive(void) {
  const char *hex = word();
  for (; hex && *hex && hex[1]; hex += 2) {
    unsigned byte;
    sscanf(hex, "%2x", &byte);
    gl_receive(&sender, (uint8_t)byte, now);
  }
}
#endif

int main(void) {
  static char line[65536];
  while (fgets(line, sizeof line, stdin)) {
    const char *what = strtok(line, " \n");
    if (!what) continue;
    if (!strcmp(what, "device")) set_device();
    if (!strcmp(what, "channel")) add_channel();
    if (!strcmp(what, "calibration")) set_calibration();
    if (!strcmp(what, "open")) open_sender();
    if (!strcmp(what, "rate")) sender.rate_mhz = number();
    if (!strcmp(what, "describe")) gl_send_describe(&sender);
    if (!strcmp(what, "tick")) now = number();
    if (!strcmp(what, "health")) {
      health.charge_percent = (uint8_t)number();
      health.temperature_dc = (int16_t)(int32_t)number();
      sender.adc_faults = (uint16_t)number();
      sender.lost_samples = number();
      sender.frames_rejected = (uint16_t)number();
    }
    if (!strcmp(what, "status")) gl_send_status(&sender);
    if (!strcmp(what, "samples")) send_samples();
#if GL_WITH_COMMANDS
    if (!strcmp(what, "reply")) {
      uint8_t opcode = (uint8_t)number(), token = (uint8_t)number(), result = (uint8_t)number();
      gl_reply(&sender, opcode, token, result, (uint8_t)number());
    }
    if (!strcmp(what, "pong")) {
      uint16_t id = (uint16_t)number();
      gl_pong(&sender, id, number());
    }
    if (!strcmp(what, "receive")) receive();
    if (!strcmp(what, "rejected")) printf("%u", sender.frames_rejected);
#endif
    if (!strcmp(what, "poll")) gl_poll(&sender);
    printf("\n");
  }
  return 0;
}
