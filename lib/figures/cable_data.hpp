// What the file says of a cable, as the tables ask for it.
#pragma once

#include <optional>
#include <vector>

#include "electrical/phasor.hpp"
#include "figures/figure.hpp"
#include "site/site.hpp"

namespace linewright::figures {

/// A value of a cable with how it came about, or what is missing for it.
template <class Value>
struct OfCable {
  std::optional<Value> value;
  std::string working;
  std::vector<Missing> missing;
  std::string why_not;
};

/// The impedance of one line conductor at the temperature of normal service.
/// Source: IEC 60228 for the resistance at 20 degrees, IEC 60364-5-52 Annex G for the reactance.
OfCable<electrical::Impedance> service_impedance(const site::Run& run);

/// What the cable carries as it is laid, Iz, as the file declares it.
OfCable<Current> capacity(const site::Run& run);

}  // namespace linewright::figures
