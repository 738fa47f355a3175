/* Reads frames without CRC as hex, one a line, and prints them as the specification's C functions put them on the wire. */
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "snippet.h"

int main(void) {
    static char text[4096];
    static uint8_t frame[2048], wire[2100];
    while (fgets(text, sizeof text, stdin)) {
        size_t n = strcspn(text, "\r\n") / 2;
        for (size_t i = 0; i < n; i++) {
            unsigned value;
            if (sscanf(text + 2 * i, "%2x", &value) != 1) return 1;
            frame[i] = (uint8_t)value;
        }
        uint16_t crc = crc16(frame, n);
        frame[n] = (uint8_t)crc;
        frame[n + 1] = (uint8_t)(crc >> 8);
        size_t length = stuff(frame, n + 2, wire);
        for (size_t i = 0; i < length; i++) printf("%02x", wire[i]);
        printf("\n");
    }
    return 0;
}
