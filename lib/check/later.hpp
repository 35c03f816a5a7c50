// What few rules ask of a site, worked out when it is first asked for and kept with the site.
#pragma once

#include <optional>
#include <vector>

#include "check/analysed_site.hpp"
#include "network/hazards.hpp"
#include "network/proof.hpp"
#include "network/transitions.hpp"

namespace linewright::check {

/// Where answers are kept; see the functions below.
struct Later {
  std::optional<network::HazardScope> scope;
  std::optional<network::Certificate> certificate;
  std::optional<network::MotionNetwork> motion;
  std::optional<std::vector<network::Transition>> transitions;
};

/// What the proof over every position is asked, as proof_scope has it.
const network::HazardScope& scope_of(const AnalysedSite& site);

/// What the proof says of every position.
const network::Certificate& certificate_of(const AnalysedSite& site);

/// The network with contacts on their way.
const network::MotionNetwork& motion_of(const AnalysedSite& site);

/// The ways between the named states.
const std::vector<network::Transition>& transitions_of(const AnalysedSite& site);

}  // namespace linewright::check
