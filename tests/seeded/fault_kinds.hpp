// The mistakes that are made, one at a time, in a sound site at every place where they can stand.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "site/site.hpp"

namespace linewright::tests {

/// Takes one wrong site, with the place at which it is wrong: "-F51", "-Q1 in island".
using Put = std::function<void(std::string place, site::Site wrong)>;

/// One kind of mistake.
struct FaultKind {
  std::string_view name;                                  ///< in the trade's words; unique
  void (*make)(const site::Site& sound, const Put& put);  ///< makes it at every place
};

// By what is done wrong.
std::span<const FaultKind> rcd_faults();
std::span<const FaultKind> pole_faults();
std::span<const FaultKind> bond_faults();
std::span<const FaultKind> earth_faults();
std::span<const FaultKind> wiring_faults();
std::span<const FaultKind> transfer_faults();
std::span<const FaultKind> source_faults();
std::span<const FaultKind> state_faults();
std::span<const FaultKind> unsaid_faults();

/// All of them.
std::vector<FaultKind> all_fault_kinds();

}  // namespace linewright::tests
