#include "seeded/harmless_kinds.hpp"

namespace linewright::tests {

std::vector<HarmlessKind> all_harmless_kinds() {
  std::vector<HarmlessKind> all;
  for (const auto of : {other_words, other_order, other_names, more_of_it})
    for (const HarmlessKind& kind : of())
      all.push_back(kind);
  return all;
}

}  // namespace linewright::tests
