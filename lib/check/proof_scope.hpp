// What the proof over every position is asked about, from the rules' point of view.
#pragma once

#include "check/analysed_site.hpp"
#include "network/hazards.hpp"

namespace linewright::check {

/// The circuits that need an RCD with those good enough for each (additional protection: at most
/// the profile's limit, not delayed; on TT: any), the circuits that are to be dead in an outage
/// (service normal or direct, and dead in every named state in which the supply does not run), and
/// the sources that run without a joint of neutral and earth by design (an IT supply, protection
/// by separation). A circuit whose named states already fail its need is left to the rules on
/// those states.
network::HazardScope proof_scope(const AnalysedSite& site);

}  // namespace linewright::check
