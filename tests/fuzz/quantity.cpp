// Any bytes as a quantity: reading never fails but by a value, and what was read prints and reads
// back to itself.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "findings/source_lines.hpp"
#include "findings/utf8.hpp"
#include "units/ensure.hpp"
#include "units/print.hpp"
#include "units/read.hpp"

namespace {

template <class Q>
void read_and_print(std::string_view text) {
  const linewright::Result<Q> value = linewright::read_quantity<Q>(text);
  if (!value) {
    ENSURE(!value.error().message.empty());
    return;
  }
  ENSURE(linewright::read_quantity<Q>(linewright::print(*value)) == *value);
  ENSURE(!linewright::print_rounded(*value).empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linewright;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  read_and_print<Current>(text);
  read_and_print<Area>(text);
  read_and_print<Energy>(text);
  read_and_print<Celsius>(text);
  read_and_print<Resistivity>(text);
  (void)read_share(text);
  (void)read_count(text);
  ENSURE(findings::is_utf8(findings::shown_safely(text)));
  const int column = size == 0 ? 1 : data[0];
  const findings::Excerpt shown = findings::excerpt(text, {1, column, column});
  ENSURE(shown.mark.find('^') != std::string::npos);
  return 0;
}
