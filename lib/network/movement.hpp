// What may move in a site: every switch with its positions, who moves it, and what locks it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "network/joining.hpp"
#include "network/network.hpp"
#include "network/positions.hpp"

namespace linewright::network {

/// Who puts a switch where it stands.
enum class Mover {
  hand,        ///< a person at the device
  controller,  ///< a coil or motor under a controller
  both,
  not_said,  ///< the file does not say
  law,       ///< a contact that follows the rest of the site, as lib/network/positions.hpp says
  nobody     ///< tool-operated: stands where it rests
};

/// What one switch may do.
struct Freedom {
  Mover mover = Mover::not_said;
  std::vector<int> positions;   ///< where it may stand; one only if nobody moves it
  int without_power = unknown;  ///< where it goes when its coil loses power
  bool protects = false;        ///< may also open by itself
};

/// Whether somebody or something puts it where it stands, and no law.
bool is_moved(const Freedom& freedom);

/// Positions that an interlock keeps apart: at most one of them at a time.
struct Barrier {
  std::vector<SwitchAt> never_together;
  std::size_t interlock = 0;  ///< index into Site::interlocks
};

/// A contact outside an inverter that the inverter closes in step with another source. While the
/// inverter makes a voltage it stays closed only in the company of such a source: it opens when
/// the supply is lost (IEC 62116; see transfer/loss-of-mains-protection).
struct Supervised {
  int by = -1;
  std::size_t source = site::none;  ///< index into network.sources
};

/// How the site may be moved.
struct Movement {
  std::vector<Freedom> of;  ///< by switch
  std::vector<Barrier> barriers;
  std::vector<Supervised> supervised;
};

/// A position for every switch, and which sources run. The supply runs while it is alive.
struct Situation {
  Positions positions;
  std::vector<bool> running;  ///< by network.sources
};

/// Reads from the site what may move. Hand-operated devices may stand anywhere; a protective
/// device may open at any time; links stand at rest.
Movement movement_of(const Network& network, const site::Site& site);

/// The same with one switch that stays where it is: a welded contact, a relay that does not move.
Movement with_stuck(Movement movement, int by, int position);

/// The elements of the sources that run.
std::vector<std::size_t> running_elements(const Network& network, const Situation& situation);

/// The situation of a named state, its law-driven contacts as the state has them.
Situation situation_of(const Network& network, const site::Site& site, const site::State& state);

/// Puts every contact that follows a law where the law has it, as positions_of says. A link that
/// nothing proves has no law outside the named states: where it stands becomes unknown.
void follow_laws(const Network& network, const site::Site& site, const Movement& movement,
                 Situation& situation);

/// The interlock that forbids the situation (index into Site::interlocks), or `site::none`.
std::size_t forbidden_by(const Movement& movement, const Situation& situation);

/// Whether every supervised contact may stay where it is: the situation lasts.
bool lasts(const Network& network, const Movement& movement, const Situation& situation);

/// One thing done or happening on the way from one situation to another.
struct Move {
  enum class Kind { put, start, stop, supply_fails, supply_returns };
  Kind kind = Kind::put;
  int by = -1;                      ///< put: the switch
  int position = -1;                ///< put: where to
  std::size_t source = site::none;  ///< else: index into network.sources
  friend bool operator==(const Move&, const Move&) = default;
};

/// What differs between two situations, law-driven contacts left out; stops first, then switches
/// that open, switches that close, and starts.
std::vector<Move> moves_between(const Network& network, const Movement& movement,
                                const Situation& from, const Situation& to);

/// "close -Q5", "put -Q1 to II", "start -G2", "the supply fails".
std::string words_of(const Network& network, const site::Site& site, const Move& move);

}  // namespace linewright::network
