// What is said of each kind of facts; `properties_of` joins them.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "site/properties.hpp"

namespace linewright::site {

/// Names of elements in the order of the alphabet: a set in the file has no order.
std::vector<std::string> names_of(const std::vector<std::size_t>& elements,
                                  const ElementNames& names);

// A structure is taken apart whole in each of these, so that a field more fails to compile.
void tell(const Busbar& busbar, const ElementNames& names, Properties& into);
void tell(const MainEarthingTerminal& terminal, const ElementNames& names, Properties& into);
void tell(const Supply& supply, const ElementNames& names, Properties& into);
void tell(const Generator& generator, const ElementNames& names, Properties& into);
void tell(const Inverter& inverter, const ElementNames& names, Properties& into);
void tell(const Battery& battery, const ElementNames& names, Properties& into);
void tell(const PvArray& array, const ElementNames& names, Properties& into);
void tell(const Device& device, const ElementNames& names, Properties& into);
void tell(const Bond& bond, const ElementNames& names, Properties& into);
void tell(const PenSplit& split, const ElementNames& names, Properties& into);
void tell(const Electrode& electrode, const ElementNames& names, Properties& into);
void tell(const Connector& connector, const ElementNames& names, Properties& into);
void tell(const Meter& meter, const ElementNames& names, Properties& into);
void tell(const SurgeProtector& protector, const ElementNames& names, Properties& into);
void tell(const Transformer& transformer, const ElementNames& names, Properties& into);
void tell(const LoadGroup& load, const ElementNames& names, Properties& into);

}  // namespace linewright::site
