/*
 * What both examples need of an ATmega328P at 16 MHz: a tick, a serial line, and a place that survives power-down.
 * Written for avr-gcc and avr-libc; for another board this is the file to rewrite.
 */
#ifndef BOARD_H
#define BOARD_H

#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <stdint.h>
#include <util/atomic.h>

enum { TICK_RATE_HZ = 250000UL }; /* timer 1 at 16 MHz / 64: 4 us, wraps after 4.8 hours */

static volatile uint16_t tick_high;

ISR(TIMER1_OVF_vect) { tick_high++; }

/* For interrupt handlers, or with interrupts off. An overflow that waits for its handler is counted already. */
static uint32_t tick_now(void) {
  uint16_t low = TCNT1, high = tick_high;
  if ((TIFR1 & _BV(TOV1)) && low < 0x8000) high++;
  return (uint32_t)high << 16 | low;
}

static inline uint32_t board_tick(void *context) {
  uint32_t now;
  (void)context;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { now = tick_now(); }
  return now;
}

/* ---- serial line: rings of 256 bytes out and 64 in, filled and emptied by interrupts ---- */

static volatile uint8_t out_head, out_tail, in_head, in_tail;
static uint8_t out_ring[256];
static uint8_t in_ring[64];
static uint32_t in_tick[64];

ISR(USART_UDRE_vect) {
  if (out_head == out_tail) {
    UCSR0B &= (uint8_t)~_BV(UDRIE0);
  } else {
    UDR0 = out_ring[out_tail++];
  }
}

ISR(USART_RX_vect) {
  uint8_t next = (in_head + 1) & 63;
  uint8_t byte = UDR0;
  if (next == in_tail) return; /* the check of the frame finds the hole */
  in_ring[in_head] = byte;
  in_tick[in_head] = tick_now();
  in_head = next;
}

static inline void board_write(void *context, const uint8_t *bytes, uint16_t count) {
  (void)context;
  while (count--) {
    while ((uint8_t)(out_head + 1) == out_tail) {} /* full: the line is slower than the cell; see board_room */
    out_ring[out_head++] = *bytes++;
    UCSR0B |= _BV(UDRIE0);
  }
}

/* Bytes that fit without waiting. */
static inline uint8_t board_room(void) { return (uint8_t)(out_tail - out_head - 1); }

/* Takes a byte that came; 0 where there is none. */
static inline uint8_t board_read(uint8_t *byte, uint32_t *tick) {
  if (in_tail == in_head) return 0;
  *byte = in_ring[in_tail];
  *tick = in_tick[in_tail];
  in_tail = (in_tail + 1) & 63;
  return 1;
}

/* ---- the rest ---- */

static uint32_t identify_until;
static uint8_t identifying;

static inline uint8_t board_identify(void *context, uint8_t seconds) {
  identify_until = board_tick(context) + seconds * (uint32_t)TICK_RATE_HZ;
  identifying = seconds != 0;
  return 0;
}

/* Blinks the board's light while asked to; call it from the loop. */
static inline void board_blink(void) {
  uint32_t now = board_tick(0);
  if (identifying && (int32_t)(now - identify_until) >= 0) identifying = 0;
  if (identifying && (now >> 15) & 1) {
    PORTB |= _BV(PB5);
  } else {
    PORTB &= (uint8_t)~_BV(PB5);
  }
}

static inline void board_begin(uint32_t baud) {
  TCCR1B = _BV(CS11) | _BV(CS10);
  TIMSK1 = _BV(TOIE1);
  UCSR0A = _BV(U2X0);
  UBRR0 = (uint16_t)((F_CPU / 4 / baud - 1) / 2);
  UCSR0B = _BV(RXEN0) | _BV(TXEN0) | _BV(RXCIE0);
  sei();
}

#endif
