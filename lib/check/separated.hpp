// Protection by separation: a floating source for one item that needs no earth.
#pragma once

#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// Whether what a zone feeds is protected by electrical separation instead of by an earth.
/// Source: IEC 60364-4-41 413 and 418.3 (the limit to one item of class II: from memory).
enum class Separated {
  no,         ///< it feeds anything that is not declared `use: separated`
  yes,        ///< one item, double insulated
  undecided,  ///< the file does not say how many items, or whether they are double insulated
  too_many    ///< more than one item, or one with an earthed case
};

Separated separated(const AnalysedSite& site, const network::StateView& state,
                    const network::Zone& zone);

/// The loads alive in a zone, by element in the order of the file.
std::vector<std::size_t> loads_of(const network::StateView& state, const network::Zone& zone);

}  // namespace linewright::check
