// Everything rules ask of a site, computed once.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "check/profile.hpp"
#include "findings/finding.hpp"
#include "network/network.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::check {

/// What few rules ask: worked out when it is first asked for (check/later.hpp).
struct Later;
std::shared_ptr<Later> nothing_yet();

/// A site, its conductor graph, and a view of each named state. Refers to the site and profile it
/// was made from, which must outlive it.
struct AnalysedSite {
  const site::Site& site;
  const Profile& profile;
  network::Network network;
  std::vector<network::StateView> states;  ///< in the order of site.states
  std::shared_ptr<Later> later = nothing_yet();

  const site::Element& element(std::size_t index) const { return site.elements[index]; }
  /// Designation of an element.
  const std::string& name(std::size_t index) const { return site.elements[index].designation; }
  /// The subject of a verdict about an element, in one state if given.
  Subject about(std::size_t index, const network::StateView* state = nullptr) const;
  /// The subject of a verdict about a state as a whole.
  Subject about(const network::StateView& state) const;
};

AnalysedSite analyse(const site::Site& site, const Profile& profile);

}  // namespace linewright::check
