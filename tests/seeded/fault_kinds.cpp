#include "seeded/fault_kinds.hpp"

namespace linewright::tests {

std::vector<FaultKind> all_fault_kinds() {
  std::vector<FaultKind> all;
  for (const auto of : {rcd_faults, pole_faults, bond_faults, earth_faults, wiring_faults,
                        transfer_faults, source_faults, state_faults, unsaid_faults})
    for (const FaultKind& kind : of())
      all.push_back(kind);
  return all;
}

}  // namespace linewright::tests
