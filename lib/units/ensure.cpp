#include "units/ensure.hpp"

#include <cstdio>
#include <cstdlib>

namespace linewright::units {

void ensure_failed(const char* expression, const char* file, int line) {
  std::fprintf(stderr, "linewright: internal error: %s does not hold at %s:%d\n", expression, file,
               line);
  std::abort();
}

}  // namespace linewright::units
