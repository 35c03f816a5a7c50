// Where sources meet in the named states, asked alike by the rules that share out what to say.
#pragma once

#include <cstddef>
#include <vector>

#include "check/analysed_site.hpp"
#include "network/joining.hpp"

namespace linewright::check {

/// Whether two source elements clash in a named state, or one of them feeds the lines of the other,
/// a supply that does not run.
bool meet_in_named_state(const AnalysedSite& site, std::size_t element_a, std::size_t element_b);

/// Two sources; indices into network.sources.
struct SourcePair {
  std::size_t a = 0;
  std::size_t b = 0;
};

/// Sources that each form a voltage, are not held in step by their set, and meet in no named state.
std::vector<SourcePair> pairs_kept_apart(const AnalysedSite& site);

/// How each switch is treated where the two must not meet: the contacts that one of them closes in
/// step with the other stay open.
std::vector<network::Treat> treatment_of(const AnalysedSite& site, SourcePair pair);

/// Outputs of the inverters that form a voltage, seen from what feeds the loads in a bypass state.
struct BypassedOutputs {
  std::vector<std::size_t> joined;     ///< a line of it is joined to a running source, out of step
  std::vector<std::size_t> separated;  ///< for sure
  std::vector<std::size_t> undecided;  ///< the file leaves it open
};
BypassedOutputs bypassed_outputs(const AnalysedSite& site, const network::StateView& state);

/// Whether the outputs of two inverters are joined in a state that is no bypass, other than through
/// the contacts that they close in step.
bool share_a_bus(const AnalysedSite& site, std::size_t inverter_a, std::size_t inverter_b);

/// Switches whose unknown position in this state, or unknown poles, may join conductors.
std::vector<std::size_t> undecided_elements(const AnalysedSite& site,
                                            const network::StateView& state);

/// What stands between a generator and everything else that can be plugged.
struct Plug {
  bool apart = false;  ///< no load and no other source is reached but through these connectors
  std::vector<std::size_t> connectors;
  std::vector<std::size_t> loads;  ///< reached without passing a connector
};
Plug plug_of(const AnalysedSite& site, std::size_t generator);

/// Whether, in a named state in which the generator rests, a line of the other source that runs is
/// joined to the pins that the generator is plugged to.
bool pins_alive_from(const AnalysedSite& site, std::size_t generator, std::size_t other);

/// Whether the state says that the source runs.
bool runs(const network::StateView& state, std::size_t element);

}  // namespace linewright::check
