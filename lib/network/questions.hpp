// Each kind of hazard as a question to the solver.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "network/encoding.hpp"
#include "network/hazards.hpp"

namespace linewright::network {

/// One subject of a question: assumed, the solver looks for a situation in which it has the hazard.
struct Target {
  Literal assumed = 0;
  Hazard like;  ///< kind, and what it is about; empty sources or no load: any
};

/// A question with the situations it is asked over. Models may be too many, never too few: each
/// is replayed.
struct Question {
  Question(const Network& network, const site::Site& site, const Movement& movement,
           const Laws& laws)
      : encoding(network, site, movement, laws) {}
  Encoding encoding;
  std::vector<Target> targets;
  std::vector<bool> matters;  ///< by switch: may bear on the answer; empty: all of them
};

using QuestionPointer = std::unique_ptr<Question>;

/// Two sources as one conductor out of step: a target each pair.
QuestionPointer ask_sources_joined(const Network& network, const site::Site& site,
                                   const Movement& movement, const Laws& laws);
/// The dead supply's lines reached: a target each source.
QuestionPointer ask_dead_supply_fed(const Network& network, const site::Site& site,
                                    const Movement& movement, const Laws& laws);
/// A live circuit without a joint of neutral and earth: a target each source.
QuestionPointer ask_neutral_without_bond(const Network& network, const site::Site& site,
                                         const Movement& movement, const HazardScope& scope,
                                         const Laws& laws);
/// Two joints on one live neutral: a target each source.
QuestionPointer ask_neutral_bonded_twice(const Network& network, const site::Site& site,
                                         const Movement& movement, const HazardScope& scope,
                                         const Laws& laws);
/// A load of which some situation might leave every RCD out, and those that may be on its way.
struct LoadAsked {
  std::size_t load = site::none;
  std::vector<std::size_t> rcds;
};
/// Those of the loads that must be asked. Where an RCD is on every way there could ever be, with no
/// joint of neutral and earth behind it, no situation can have the hazard, and nothing is asked.
std::vector<LoadAsked> loads_to_ask(const Network& network, const std::vector<RcdNeed>& needs);
/// One load alive without an RCD that sees.
QuestionPointer ask_load_without_rcd(const Network& network, const site::Site& site,
                                     const Movement& movement, const LoadAsked& asked,
                                     const Laws& laws);
/// A load that is to be dead in an outage, alive in one: one target for all of them.
QuestionPointer ask_unsupported_load(const Network& network, const site::Site& site,
                                     const Movement& movement, const HazardScope& scope,
                                     const Laws& laws);

}  // namespace linewright::network
