// A stand-in for the part of the Arduino core that the specification's sketch uses. Time is the sketch's own: every
// call of micros() takes a little of it.
#pragma once
#include <cstdint>
#include <string>

class String {
public:
    String(const char *text) : value(text) {}
    friend String operator+(String left, const char *right) { left.value += right; return left; }
    friend String operator+(String left, int right) { left.value += std::to_string(right); return left; }
    friend String operator+(String left, uint32_t right) { left.value += std::to_string(right); return left; }
    std::string value;
};

struct SerialPort {
    void begin(long) {}
    void print(const char *text);
    void print(const String &text);
};

extern SerialPort Serial;
const int A0 = 14;
uint32_t micros();
int analogRead(int pin);
