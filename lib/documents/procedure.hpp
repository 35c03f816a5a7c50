// Switching procedures in words: how to get from one state to another, how to make a part dead.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "network/hazards.hpp"
#include "network/network.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// The boards that one source, or several in step, keep alive.
struct FedBoards {
  std::string source;               ///< "supply", "-T1 + -T2"
  std::vector<std::string> places;  ///< "+A4", "+A2 -WB1"
};

/// What is alive and what is dead at one moment.
struct LiveParts {
  std::vector<FedBoards> fed;
  std::vector<std::string> dead;
  std::vector<std::string> leads;  ///< sources that feed no board: alive up to an open switch
  friend bool operator==(const LiveParts&, const LiveParts&);
};

/// One step of a procedure.
struct ProcedureStep {
  std::string does;                    ///< "Put -Q1 to 0"
  std::string who;                     ///< "by hand, +A2 Transfer panel"
  std::vector<std::string> by_itself;  ///< "-T1:bond closes"
  LiveParts before;
  LiveParts after;
  std::vector<std::string> verify;
  std::vector<std::string> cautions;
};

/// A device that stays open and locked during work.
struct LockRow {
  std::string device;  ///< "-F21 open", "-Q1 at 0"
  std::string place;
  std::vector<std::string> holds_off;  ///< "supply", "-G2", "-B1"
};

/// How making a part dead ends.
struct DeadWork {
  std::string part;  ///< what was asked for
  std::vector<LockRow> locks;
  std::vector<std::string> kept_off;     ///< sources inside that are stopped and must not start
  std::vector<std::string> waits;        ///< stored energy
  std::vector<std::string> prove_dead;   ///< where, and between which conductors
  std::vector<std::string> stays_alive;  ///< close by
};

enum class ProcedureResult {
  ready,
  open,        ///< a sequence, but something that it rests on is not said
  impossible,  ///< every safe situation within reach was looked at
  not_decided  ///< too many situations
};

/// What a procedure is asked for; `isolate` or `to` is empty.
struct ProcedureRequest {
  std::string purpose;  ///< "Into the bypass"
  std::string from;     ///< names a state
  std::string to;       ///< names a state
  std::string isolate;  ///< designation of an element or assembly
};

/// A procedure, or why there is none.
struct Procedure {
  ProcedureRequest request;
  ProcedureResult result = ProcedureResult::ready;
  std::vector<std::string> notes;  ///< what was taken for granted
  LiveParts at_start;
  std::vector<ProcedureStep> steps;
  DeadWork dead;  ///< only if something is isolated
  std::vector<std::string> open;
  std::vector<std::string> why_not;
  std::size_t looked_at = 0;  ///< situations
};

/// Names that `from` and `to` of a request may have: the states of the file, and "off".
std::vector<std::string> state_names(const site::Site& site);
/// Names that `isolate` may have.
std::vector<std::string> names_to_isolate(const site::Site& site);
/// The state that an isolation begins in if none is named: `grid`, else the first of the file.
std::string usual_start(const site::Site& site);

/// The procedures of a list of requests, in its order, safe in the sense of the scope. Names must
/// be of those above.
std::vector<Procedure> procedures(const site::Site& site, const network::Network& network,
                                  const network::HazardScope& scope,
                                  const std::vector<ProcedureRequest>& requests);

/// What is usually asked of such a site: energising, island, generator, bypass, isolation.
std::vector<ProcedureRequest> usual_requests(const site::Site& site);

/// For people, no line wider than `width` unless a word is; ends with what to mind.
std::string procedures_text(const std::vector<Procedure>& all, std::size_t width = 100);
/// A line each: what for, the words that ask for it, how many steps.
std::string procedures_list(const std::vector<Procedure>& all);
/// As one JSON array.
std::string procedures_json(const std::vector<Procedure>& all);

}  // namespace linewright::documents
