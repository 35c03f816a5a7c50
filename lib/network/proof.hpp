// Which hazards can be reached in any situation that the site allows, and how; or that none can.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "network/hazards.hpp"
#include "network/movement.hpp"

namespace linewright::network {

/// A hazard that can be reached, with the fewest departures from a named state.
struct Refutation {
  Hazard hazard;
  Situation situation;
  std::size_t nearest = 0;          ///< index into Site::states
  std::vector<Move> moves;          ///< from there; empty if the named state itself shows it
  std::vector<std::uint32_t> path;  ///< edges that a picture emphasises
};

/// What came of one kind of hazard.
enum class Outcome {
  proved,       ///< no allowed situation has it
  refuted,      ///< some have it
  open,         ///< it hangs on what the file does not say, or the search was cut short
  not_relevant  ///< the site has nothing that could show it
};

/// The verdict on one kind of hazard.
struct HazardVerdict {
  HazardKind kind = HazardKind::sources_joined;
  Outcome outcome = Outcome::not_relevant;
  std::vector<Refutation> refutations;  ///< refuted: one a subject, fewest departures first
  std::vector<Refutation> undecided;    ///< open: what may be so
  std::vector<std::size_t> rests_on;    ///< proved: interlocks (Site::interlocks) it needs
  std::vector<std::size_t> left_out;    ///< loads that were not asked: named states show it already
  std::vector<std::size_t> never_fed;   ///< loads that no named state feeds: not asked
  std::vector<std::size_t> exempt;      ///< sources unearthed for single items, that can feed more
  std::vector<std::size_t> not_followed;  ///< transformers, and inverters behind inverters
  bool cut_short = false;                 ///< too many situations had to be looked at one by one
};

/// What follows from the rest of a verdict; `asked` is false where the site has nothing to ask of.
Outcome outcome_of(const HazardVerdict& verdict, bool asked);

/// How many situations the site allows.
struct Count {
  std::optional<std::uint64_t> exact;  ///< where it fits
  double decimal_digits = 0;           ///< logarithm to base ten; of the bound if not counted out
  bool counted = true;                 ///< false: interlocks too entangled, an upper bound
};

/// Everything that the proof looked at, and what came of it.
struct Certificate {
  Movement movement;
  Count situations;
  std::vector<HazardVerdict> verdicts;  ///< one a kind, in the order of HazardKind
};

/// Transformers of the site: voltage passes them both ways, and what lies behind is not followed,
/// so that nothing is impossible that has not been shown to be possible.
std::vector<std::size_t> transformers_of(const site::Site& site);

/// What the network does not follow: transformers, and inverters that another one may feed.
std::vector<std::size_t> not_followed(const Network& network, const site::Site& site);

/// Decides every kind of hazard over every situation that the interlocks allow.
/// Every refutation has been replayed by hazards_in.
Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope);
/// The same with other freedom, such as a stuck contact.
Certificate prove(const Network& network, const site::Site& site, const HazardScope& scope,
                  const Movement& movement);

/// How many situations a movement allows for this many sources.
Count count_situations(const Movement& movement, std::size_t sources);

}  // namespace linewright::network
