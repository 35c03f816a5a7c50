// What to do when we, not the user, are wrong: say where and stop.
#pragma once

namespace linewright::units {

/// Prints the broken promise with its place on standard error and aborts.
[[noreturn]] void ensure_failed(const char* expression, const char* file, int line);

}  // namespace linewright::units

/// Stops the program, in every build type, when the condition does not hold: that is a bug of ours.
#define ENSURE(...)                                                                           \
  do {                                                                                        \
    if (!(__VA_ARGS__)) ::linewright::units::ensure_failed(#__VA_ARGS__, __FILE__, __LINE__); \
  } while (false)
