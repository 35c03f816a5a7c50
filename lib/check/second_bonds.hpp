// Which rule speaks of a neutral-earth joint that is one too many: one cause, one finding.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// Why a local joint of neutral and earth meets the supply's neutral.
enum class SecondBondCause {
  without_power,        ///< a contact at rest while what drives it is off:
                        ///< earthing/bond-relay-rest-position
  unswitched_transfer,  ///< a transfer leads the neutral on between two sources with a link each,
                        ///< where the profile has it opened: earthing/neutral-poles-of-the-transfer
  generator_link,       ///< the same where the profile has the neutral joined, and the link is on
                        ///< a generator's side: earthing/generator-with-common-neutral
  rejoined,             ///< a fixed joint behind the place where the PEN is divided:
                        ///< earthing/pen-split-once
  tt,                   ///< any other on a TT supply: earthing/no-local-bond-on-tt-while-on-grid
  local                 ///< any other: earthing/no-second-bond-while-on-grid
};

/// A local joint in a zone that the supply's neutral belongs to.
struct SecondBond {
  network::BondPoint bond;
  bool sure = true;  ///< false: the file does not say whether it is closed
  SecondBondCause cause = SecondBondCause::local;
  std::size_t transfer = site::none;  ///< unswitched_transfer: the device at fault
};

/// The local joints of a zone that is joined to the supply's neutral for sure. Those whose way
/// there is undecided are left out: the rules on poles ask for it.
std::vector<SecondBond> second_bonds(const AnalysedSite& site, const network::StateView& state,
                                     const network::Zone& zone);

/// Whether a joint is closed in a zone of the supply's neutral in some state, where a rule of
/// `second_bonds` speaks of it.
bool closed_on_grid(const AnalysedSite& site, std::size_t element);

/// The supply of the site, or `site::none`.
std::size_t supply_of(const AnalysedSite& site);

/// Whether the supply's neutral stays joined in island by the profile's rules (AU, NZ). Never on a
/// site that has no supply, or one without a neutral: nothing is there to stay joined to.
bool neutral_stays_joined(const AnalysedSite& site);

/// Whether an element stands on the side of a source: joined to its neutral in this state without
/// a way through anything that changes over. Returns that source, or `site::none`.
std::size_t source_beside(const AnalysedSite& site, const network::StateView& state,
                          const network::BondPoint& bond);

}  // namespace linewright::check
