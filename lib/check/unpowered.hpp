// Neutral-earth contacts while what drives them is off.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// A neutral-earth contact and the source that drives it: its own inverter, or the one that drives
/// its coil.
struct DrivenContact {
  std::size_t contact = site::none;     ///< inverter or link
  std::size_t controller = site::none;  ///< a source
  bool inner = false;                   ///< the contact is inside the controller
};

/// All of them, by contact. Contacts that no source drives are left out.
std::vector<DrivenContact> driven_contacts(const AnalysedSite& site);

/// Whether the file says where the contact goes without power.
bool rest_is_given(const AnalysedSite& site, const DrivenContact& it);

/// The state as it is once that controller is off: it does not run, its contacts and the coils
/// that it drives have no power, inner contacts of other inverters follow their law.
site::State without_controller(const AnalysedSite& site, const network::StateView& state,
                               std::size_t controller);

/// Whether the contact stands at its closed rest in this state because its controller is off.
bool closed_for_want_of_power(const AnalysedSite& site, const network::StateView& state,
                              std::size_t contact);

/// Whether its position in this state hangs on a rest position that the file does not give.
bool undecided_for_want_of_power(const AnalysedSite& site, const network::StateView& state,
                                 std::size_t contact);

}  // namespace linewright::check
