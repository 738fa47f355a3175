/*
 * The reference sender behind a pseudo-terminal of its own, as a board behind a serial adapter: prints the path of the
 * terminal, waits for a station and then speaks until its standard input ends.
 *
 *     pty bytes|text RATE_HZ
 *
 * The force is a triangle of 0 to 1000 counts every two seconds.
 */
#define _XOPEN_SOURCE 700
#define GAUGELINE_SENDER_IMPLEMENTATION
#define GL_FRAME_BYTES 256
#include "../gaugeline_sender.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static int terminal;

static void put(void *context, const uint8_t *bytes, uint16_t count) {
  (void)context;
  while (count) {
    ssize_t n = write(terminal, bytes, count);
    if (n < 0 && errno != EAGAIN && errno != EINTR) return;
    if (n <= 0) {
      struct pollfd p = {terminal, POLLOUT, 0};
      poll(&p, 1, 100);
      continue;
    }
    bytes += n;
    count = (uint16_t)(count - n);
  }
}

static uint32_t microseconds(void *context) {
  struct timespec t;
  (void)context;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (uint32_t)((uint64_t)t.tv_sec * 1000000U + (uint64_t)t.tv_nsec / 1000U);
}

static uint8_t set_rate(void *context, uint32_t rate_mhz) {
  *(uint32_t *)context = 1000000000U / rate_mhz;
  return GL_DONE;
}

static uint8_t identify(void *context, uint8_t seconds) {
  (void)context;
  fprintf(stderr, "identify %u s\n", seconds);
  return GL_DONE;
}

static uint8_t keep(void *context, uint8_t channel, const gl_calibration *c) {
  (void)context;
  (void)channel;
  (void)c;
  return GL_DONE;
}

int main(int argc, char **argv) {
  uint32_t period_us, due, ticks = 0;
  uint32_t rates[2];
  gl_channel channels[1] = {{24, 250, 128, 500, "invented cell"}};
  gl_device device = {"reference-sender", "pty", "1.0", 1000000, rates, 2, 1, channels, 3, 1, 1};
  gl_calibration calibration = {0, 0.1F, 0.001F, 20261101};
  gl_port port = {&period_us, put, microseconds, 0, 0, set_rate, identify, keep};
  static gl_sender sender;
  struct termios raw;
  int text, peer;
  if (argc != 3 || atoi(argv[2]) < 1) {
    fprintf(stderr, "usage: pty bytes|text RATE_HZ\n");
    return 2;
  }
  text = !strcmp(argv[1], "text");
  rates[0] = (uint32_t)atoi(argv[2]) * 1000U;
  rates[1] = rates[0] / 2;
  period_us = 1000000000U / rates[0];
  device.samples_per_message = (uint8_t)(period_us >= 40000 ? 1 : period_us >= 1400 ? 40000 / period_us : 29);
  terminal = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
  if (terminal < 0 || grantpt(terminal) || unlockpt(terminal)) return 1;
  peer = open(ptsname(terminal), O_RDWR | O_NOCTTY); /* kept open, so that a station may come and go */
  if (peer < 0 || tcgetattr(peer, &raw)) return 1;
  raw.c_iflag = raw.c_oflag = raw.c_lflag = 0;
  raw.c_cflag |= CS8 | CREAD;
  tcsetattr(peer, TCSANOW, &raw);
  printf("%s\n", ptsname(terminal));
  fflush(stdout);
  if (!gl_begin(&sender, text ? GL_TEXT : GL_BYTES, &device, &port, &calibration)) return 1;
  due = microseconds(0) + period_us;
  for (;;) {
    struct pollfd p[2] = {{terminal, POLLIN, 0}, {0, POLLIN, 0}};
    uint8_t bytes[256];
    ssize_t n;
    poll(p, 2, 1);
    if (p[1].revents && read(0, bytes, sizeof bytes) <= 0) return 0;
    n = p[0].revents & POLLIN ? read(terminal, bytes, sizeof bytes) : 0;
    for (ssize_t i = 0; i < n; i++) gl_receive(&sender, bytes[i], microseconds(0));
    while ((int32_t)(microseconds(0) - due) >= 0) {
      uint32_t phase = ticks++ * (uint64_t)period_us / 1000 % 2000;
      int32_t counts = (int32_t)(phase < 1000 ? phase : 2000 - phase);
      gl_push(&sender, due, 0, &counts);
      due += period_us;
    }
    gl_poll(&sender);
  }
}
