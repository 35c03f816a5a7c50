// The devices that change over between sources, and what each side of them leads to.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// A changeover or contactor with sources on more than one side.
struct TransferDevice {
  std::size_t element = site::none;
  std::vector<std::size_t> sources;  ///< elements that form a voltage, on any side, in file order
  bool by_controller = false;        ///< a coil or motor can move it
};

/// Every one of the site. A contactor is one where each of its sides leads to such a source by a
/// way that does not pass the contactor itself, whatever stands open; a changeover always.
std::vector<TransferDevice> transfer_devices(const AnalysedSite& site);

/// The elements of sources that form a voltage and are reached from a terminal without entering
/// the element itself, whatever stands open.
std::vector<std::size_t> sources_reached(const AnalysedSite& site, std::size_t element,
                                         std::size_t terminal);

/// The sources that form the voltage of a terminal in one state, with the last overcurrent device
/// that every way from them passes.
struct FeedOf {
  std::size_t source = site::none;
  std::size_t device = site::none;  ///< `none`: there is no such device on every way
};
std::vector<FeedOf> feeds_of(const AnalysedSite& site, const network::StateView& state,
                             std::size_t element, std::size_t terminal);

}  // namespace linewright::check
