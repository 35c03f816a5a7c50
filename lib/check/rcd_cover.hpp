// Which circuits need a residual-current device, and whether it guards them from every source in
// every state.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "check/analysed_site.hpp"

namespace linewright::check {

/// Whether the profile asks for additional protection of a circuit.
struct Need {
  enum class Answer { yes, no, unknown } answer = Answer::no;
  std::string missing;  ///< where unknown: the value with its key
};

/// Whether a circuit needs an RCD of at most the profile's limit, by its use and the rated current
/// of its device, as guarded in that loop.
Need additional_protection(const AnalysedSite& site, const network::Loop& loop);

/// What a circuit must have between itself and a source.
enum class Wanted {
  nothing,
  any_rcd,    ///< it is fed through earth (TT), where no breaker would trip
  additional  ///< one of at most the profile's limit, not delayed
};

/// How a circuit stands in one state towards one source.
enum class Standing {
  guarded,    ///< the device wanted is there and the fault current passes it
  skipped,    ///< it guards the circuit elsewhere, but not here
  never,      ///< the circuit has none from any source in any state
  undecided,  ///< the file leaves out what decides it
  unseen,     ///< it is there, but the fault current does not come home or comes back through it
  not_wanted
};

/// A circuit from one source in one state.
struct CircuitCover {
  const network::StateView* state = nullptr;
  const network::Loop* loop = nullptr;
  Wanted wanted = Wanted::nothing;
  Standing standing = Standing::not_wanted;
  std::size_t rcd = site::none;  ///< guarded: by it; skipped: it guards elsewhere
  std::string missing;           ///< undecided: the value with its key
  bool guarded_elsewhere = false;
};

/// Every loop of every state, in order.
std::vector<CircuitCover> circuit_covers(const AnalysedSite& site);

/// An RCD that guards circuits elsewhere, but not from one source in one state.
struct SkippedRcd {
  const network::StateView* state = nullptr;
  std::size_t source = site::none;
  std::size_t rcd = site::none;
  std::vector<std::size_t> loads;  ///< those left without
};

/// The covers that stand `skipped`, gathered by state, source and device.
std::vector<SkippedRcd> skipped_rcds(const std::vector<CircuitCover>& covers);

/// The residual side of a device, or null.
const site::Residual* residual(const AnalysedSite& site, std::size_t element);

/// What a circuit is called: the user's words, or its designation.
std::string circuit_name(const AnalysedSite& site, std::size_t load);

/// The device of a circuit: the last before the load; the load itself where there is none.
std::size_t circuit_device(const network::Loop& loop);

/// "'Kitchen'" for one, "3 circuits" for more.
std::string circuits_in_words(const AnalysedSite& site, const std::vector<std::size_t>& loads);

/// A note at each circuit: "'Kitchen' " and the text.
std::vector<Note> circuit_notes(const AnalysedSite& site, const std::vector<std::size_t>& loads,
                                const std::string& text);

}  // namespace linewright::check
