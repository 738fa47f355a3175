/*
 * A full-bridge cell on a 24-bit delta-sigma converter with SPI, 1,000 conversions a second, 11 in a message.
 * Byte stream at 115200 baud (a third of the line). Board: ATmega328P at 16 MHz.
 *
 *   data ready (falling) -> PD2, chip select -> PB2, SPI on PB3 (out), PB4 (in), PB5 (clock)
 *
 * 11 ms and the 16 ms of a USB adapter's timer have no common divisor but 1 ms: the station can tell the clocks apart.
 * The four constants below are the converter's; they are of the kind that many share (from memory): take yours from its
 * data sheet.
 */
#include "board.h"

#define GAUGELINE_SENDER_IMPLEMENTATION
#define GL_WITH_TEXT 0
#define GL_CHANNELS 1
#define GL_FRAME_BYTES 160
#include "../gaugeline_sender.h"

enum { CONVERTER_RESET = 0x06, CONVERTER_START = 0x08, CONVERTER_READ = 0x10 };
/* write registers from 0: input pair 0-1, gain 128; 1,000 a second, continuous; reference of the bridge */
static const uint8_t converter_setup[] = {0x40, 0x02, 0x0E, 0xD4, 0x40};

enum { WAITING = 16 };

/* Conversions that wait to be sent; filled in the interrupt, so that a long describe costs none. */
static volatile uint8_t head, tail;
static volatile uint16_t missed;
static struct {
  uint32_t tick;
  int32_t counts;
} ring[WAITING];

static uint8_t spi(uint8_t out) {
  SPDR = out;
  while (!(SPSR & _BV(SPIF))) {}
  return SPDR;
}

ISR(INT0_vect) {
  uint32_t tick = tick_now(), value = 0;
  uint8_t next = (head + 1) & (WAITING - 1);
  PORTB &= (uint8_t)~_BV(PB2);
  spi(CONVERTER_READ);
  for (uint8_t i = 0; i < 3; i++) value = value << 8 | spi(0);
  PORTB |= _BV(PB2);
  if (next == tail) {
    missed++;
    return;
  }
  ring[head].tick = tick;
  ring[head].counts = value & 0x800000UL ? (int32_t)(value | 0xFF000000UL) : (int32_t)value;
  head = next;
}

static void converter_begin(void) {
  DDRB |= _BV(PB2) | _BV(PB3) | _BV(PB5);
  PORTB |= _BV(PB2);
  SPCR = _BV(SPE) | _BV(MSTR) | _BV(CPHA) | _BV(SPR0); /* mode 1, 1 MHz */
  PORTB &= (uint8_t)~_BV(PB2);
  spi(CONVERTER_RESET);
  for (volatile uint16_t wait = 0; wait < 10000; wait++) {}
  for (uint8_t i = 0; i < sizeof converter_setup; i++) spi(converter_setup[i]);
  spi(CONVERTER_START);
  PORTB |= _BV(PB2);
  EICRA = _BV(ISC01);
  EIMSK = _BV(INT0);
}

int main(void) {
  static const uint32_t rates[] = {1000000};
  static const gl_channel channels[] = {{24, 262, 128, 2000, "cell"}};
  static const gl_device device = {"invented-bench-2", "SPI example", "1.0", TICK_RATE_HZ, rates, 1, 1, channels, 3, 11, 0};
  static const gl_port port = {0, board_write, board_tick, 0, 0, 0, 0, 0};
  static gl_sender sender;
  uint16_t lost_before = 0;

  board_begin(115200);
  if (!gl_begin(&sender, GL_BYTES, &device, &port, 0)) for (;;) {}
  converter_begin();
  for (;;) {
    uint8_t byte;
    uint32_t tick;
    uint16_t lost;
    while (board_read(&byte, &tick)) gl_receive(&sender, byte, tick);
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { lost = missed; }
    if (lost != lost_before) {
      gl_flush(&sender);
      gl_lost(&sender, (uint16_t)(lost - lost_before));
      lost_before = lost;
    }
    while (tail != head && (!gl_streaming(&sender) || board_room() > 64)) {
      int32_t counts = ring[tail].counts;
      gl_push(&sender, ring[tail].tick, counts == 0x7FFFFFL || counts == -0x800000L ? GL_OVERLOAD : 0, &counts);
      tail = (tail + 1) & (WAITING - 1);
    }
    gl_poll(&sender);
  }
}
