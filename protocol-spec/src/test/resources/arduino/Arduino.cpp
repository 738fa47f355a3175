#include "Arduino.h"
#include <cstdio>

void setup();
void loop();

SerialPort Serial;
static uint64_t now = 4294967296ull - 30000000ull; // Half a minute before the clock wraps.

uint32_t micros() {
    now += 3;
    return (uint32_t)now;
}

int analogRead(int pin) {
    now += 112;
    return (int)(now / 1000 * 7 + pin) % 1024;
}

void SerialPort::print(const char *text) { fputs(text, stdout); }
void SerialPort::print(const String &text) { fputs(text.value.c_str(), stdout); }

int main() {
    const uint64_t start = now;
    setup();
    while (now - start < 60000000ull) {
        loop();
    }
    return 0;
}
