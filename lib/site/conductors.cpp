#include "site/conductors.hpp"

namespace linewright::site {

std::string_view mark(Conductor conductor) {
  constexpr std::array<std::string_view, 8> marks{"L1", "L2", "L3", "N", "PE", "PEN", "DC+", "DC−"};
  return marks.at(static_cast<std::size_t>(conductor));
}

std::string words(Conductors conductors) {
  std::string text;
  for (const Conductor c : all_conductors) {
    if (!conductors.has(c)) continue;
    if (!text.empty()) text += ' ';
    text += mark(c);
  }
  return text;
}

}  // namespace linewright::site
