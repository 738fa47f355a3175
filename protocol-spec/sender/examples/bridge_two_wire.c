/*
 * A full-bridge cell on a 24-bit bridge converter with two wires, data and clock, as on cheap amplifier boards.
 * Byte stream at 115200 baud, one channel. Board: ATmega328P at 16 MHz.
 *
 *   data  -> PD2 (its falling edge says that a conversion has ended)
 *   clock -> PD3
 *   switch from PD4 to ground: while it is closed a calibration may be written
 *
 * The converter is read by 24 clock pulses, highest bit first; a 25th chooses gain 128 of the same input for the next
 * conversion (common practice of this kind of converter; see the data sheet of yours). A clock that stays high for 60 us
 * turns it off, so interrupts wait during each pulse.
 */
#include "board.h"

#define GAUGELINE_SENDER_IMPLEMENTATION
#define GL_WITH_TEXT 0
#define GL_CHANNELS 1
#define GL_FRAME_BYTES 160
#include "../gaugeline_sender.h"

static gl_calibration EEMEM stored;

static volatile uint32_t ready_tick;
static volatile uint8_t ready;

ISR(INT0_vect) {
  ready_tick = tick_now();
  ready = 1;
}

static int32_t read_counts(void) {
  uint32_t value = 0;
  for (uint8_t pulse = 0; pulse < 25; pulse++) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
      PORTD |= _BV(PD3);
      if (pulse < 24) value = value << 1 | ((PIND >> PD2) & 1);
      PORTD &= (uint8_t)~_BV(PD3);
    }
  }
  return value & 0x800000UL ? (int32_t)(value | 0xFF000000UL) : (int32_t)value;
}

static uint8_t store(void *context, uint8_t channel, const gl_calibration *c) {
  (void)context;
  (void)channel;
  if (PIND & _BV(PD4)) return GL_NOT_NOW;
  eeprom_update_block(c, &stored, sizeof *c);
  return GL_DONE;
}

int main(void) {
  static const uint32_t rates[] = {80000}; /* 80 a second: the rate pin of the amplifier board is high */
  static const gl_channel channels[] = {{24, 0, 128, 500, "cell"}}; /* bandwidth not known; 500 N cell */
  static const gl_device device = {"invented-bench-1", "two-wire example", "1.0", TICK_RATE_HZ, rates, 1, 1, channels, 3, 1, 0};
  static const gl_port port = {0, board_write, board_tick, 0, 0, 0, board_identify, store};
  static gl_sender sender;
  gl_calibration calibration;
  uint32_t last_tick = 0;

  DDRD |= _BV(PD3);
  DDRB |= _BV(PB5);
  PORTD |= _BV(PD4);
  EICRA = _BV(ISC01);
  EIMSK = _BV(INT0);
  board_begin(115200);
  eeprom_read_block(&calibration, &stored, sizeof calibration);
  if (calibration.date == 0xFFFFFFFFUL) memset(&calibration, 0, sizeof calibration); /* never written */
  if (!gl_begin(&sender, GL_BYTES, &device, &port, &calibration)) for (;;) PORTB ^= _BV(PB5);
  for (;;) {
    uint8_t byte;
    uint32_t tick;
    while (board_read(&byte, &tick)) gl_receive(&sender, byte, tick);
    if (ready) {
      int32_t counts;
      ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { tick = ready_tick; }
      counts = read_counts();
      EIFR = _BV(INTF0); /* reading moves the data wire: those edges say nothing */
      ready = 0;
      gl_push(&sender, tick, counts == 0x7FFFFFL || counts == -0x800000L ? GL_OVERLOAD : 0, &counts);
      last_tick = tick;
    } else if (board_tick(0) - last_tick > TICK_RATE_HZ / 4) {
      int32_t none = 0; /* the converter is silent: say so, four times a second */
      last_tick = board_tick(0);
      gl_push(&sender, last_tick, GL_ADC_FAULT, &none);
    }
    gl_poll(&sender);
    board_blink();
  }
}
