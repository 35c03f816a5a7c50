// Systems that run without a joint of neutral and earth: on purpose (IT), or for single items.
#pragma once

#include "check/analysed_site.hpp"
#include "check/separated.hpp"

namespace linewright::check {

/// What a source says of running without a joint, or null where it is no source.
const site::Unearthed* unearthed(const AnalysedSite& site, std::size_t source);

/// Whether a zone that has no joint of neutral and earth is meant to have none: every source that
/// forms it says so, or is an IT supply. Then earthing/it-island-needs-monitor speaks of it.
bool runs_as_it(const AnalysedSite& site, const network::Zone& zone);

/// Whether a zone that has no joint feeds something by separation, alone or beside other circuits.
/// Then earthing/floating-set-feeds-no-fixed-wiring speaks of it.
bool meant_for_items(const AnalysedSite& site, const network::StateView& state,
                     const network::Zone& zone);

}  // namespace linewright::check
