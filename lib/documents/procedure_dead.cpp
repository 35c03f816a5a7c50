#include "documents/procedure_dead.hpp"

#include <algorithm>

#include <fmt/core.h>
#include <fmt/format.h>

#include "documents/state_words.hpp"

namespace linewright::documents {
namespace {

using network::Isolation;
using network::LockPoint;
using site::Conductor;
using site::none;

bool is_live(Conductor c) {
  return site::lines.has(c) || site::direct_current.has(c);
}

/// The conductors that arrive at a terminal; all of the element's where no run ends there.
site::Conductors at_terminal(const Grounds& grounds, std::size_t element, std::size_t terminal) {
  site::Conductors arriving;
  for (const site::Run& run : grounds.site.runs)
    for (const site::Terminal& end : {run.from, run.to})
      if (end.element == element && end.terminal == terminal) arriving = arriving | run.conductors;
  return arriving.empty() ? grounds.site.elements[element].conductors : arriving;
}

template <class T>
bool is(const Grounds& grounds, std::size_t element) {
  return site::facts<T>(grounds.site.elements[element]) != nullptr;
}

std::size_t element_of(const Grounds& grounds, const LockPoint& lock) {
  return grounds.network.switches[static_cast<std::size_t>(lock.by)].element;
}

/// Whether the terminal of a device lies in the dead part.
bool inside(const Grounds& grounds, const Isolation& isolation, std::size_t element,
            std::size_t terminal) {
  const site::Conductors arriving = at_terminal(grounds, element, terminal);
  for (const Conductor c : site::all_conductors) {
    const std::uint32_t node = grounds.network.node(element, terminal, c);
    if (is_live(c) && arriving.has(c) && node != network::no_node && isolation.inside[node])
      return true;
  }
  return false;
}

bool is_store(const Grounds& grounds, std::size_t element) {
  return is<site::Battery>(grounds, element) || is<site::PvArray>(grounds, element);
}

std::vector<std::string> names_of(const Grounds& grounds,
                                  const std::vector<std::size_t>& elements) {
  std::vector<std::string> names;
  for (const std::size_t e : elements)
    names.push_back(source_name(grounds.site, e));
  return names;
}

LockRow row_of(const Grounds& grounds, const LockPoint& lock) {
  const network::Switch& it = grounds.network.switches[static_cast<std::size_t>(lock.by)];
  const std::string& position = it.positions[static_cast<std::size_t>(lock.position)];
  return {.device = grounds.name(it.element) + (position == "open" ? " open" : " at " + position),
          .place = place_words(grounds.site, it.element),
          .holds_off = names_of(grounds, lock.holds_off)};
}

void note_what_is_missing(const Grounds& grounds, const LockPoint& lock,
                          std::vector<std::string>& open) {
  const std::string& name = grounds.name(element_of(grounds, lock));
  const auto say = [&](const std::optional<bool>& declared, std::string_view can,
                       std::string_view word) {
    if (declared == true) return;
    open.push_back(
        declared
            ? fmt::format("{} is said not to {}: another device is needed", name, can)
            : fmt::format("that {} can {} is not said: write '{}' if it can", name, can, word));
  };
  say(lock.isolates, "isolate", "isolating");
  say(lock.lockable, "be locked open", "lockable");
  if (!lock.by_hand)
    open.push_back(
        fmt::format("{} is not said to be moved by hand: it cannot be relied on to "
                    "stay where it is",
                    name));
}

/// "L1 L2 L3 N against each other and each against PE".
std::string pairs_words(site::Conductors conductors) {
  site::Conductors tested = conductors;
  tested.remove(Conductor::pe);
  return tested.count() > 1
             ? fmt::format("{} against each other and each to PE", site::words(tested))
             : fmt::format("{} to PE", site::words(tested));
}

/// A battery or PV that is worked on stays alive itself: the side away from it is proved dead.
void add_parting(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  for (const LockPoint& lock : isolation.locks) {
    const std::size_t e = element_of(grounds, lock);
    for (std::size_t t = 0; t < grounds.site.elements[e].terminals.size(); ++t)
      if (!inside(grounds, isolation, e, t))
        work.prove_dead.push_back(fmt::format("{}, the side away from {}: {}",
                                              terminal_words(grounds.site, e, t), work.part,
                                              pairs_words(at_terminal(grounds, e, t))));
  }
}

void add_proof_places(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  if (isolation.elements.size() == 1 && is_store(grounds, isolation.elements.front()))
    return add_parting(grounds, isolation, work);
  const bool whole = isolation.elements.size() > 1;
  const auto add = [&](std::size_t e, std::size_t t, std::string_view remark) {
    work.prove_dead.push_back(fmt::format("{}{}: {}", terminal_words(grounds.site, e, t), remark,
                                          pairs_words(at_terminal(grounds, e, t))));
  };
  for (const std::size_t e : isolation.elements) {
    if (whole && !is<site::Busbar>(grounds, e) && !is<site::Inverter>(grounds, e)) continue;
    for (std::size_t t = 0; t < grounds.site.elements[e].terminals.size(); ++t)
      if (inside(grounds, isolation, e, t)) add(e, t, "");
  }
  for (const LockPoint& lock : isolation.locks) {
    const std::size_t e = element_of(grounds, lock);
    for (std::size_t t = 0; t < grounds.site.elements[e].terminals.size(); ++t)
      if (inside(grounds, isolation, e, t)) add(e, t, ", the side of the work");
  }
}

/// Whether a lock holds off nothing but batteries and PV, which are told of apart.
bool holds_stores_only(const Grounds& grounds, const LockPoint& lock) {
  return !lock.holds_off.empty() &&
         std::ranges::all_of(lock.holds_off, [&](std::size_t e) { return is_store(grounds, e); });
}

/// Sides of the locks that look away from the work.
void add_far_sides(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  for (const LockPoint& lock : isolation.locks) {
    if (holds_stores_only(grounds, lock)) continue;
    const std::size_t e = element_of(grounds, lock);
    for (std::size_t t = 0; t < grounds.site.elements[e].terminals.size(); ++t) {
      const site::Conductors all = at_terminal(grounds, e, t);
      const bool live = std::ranges::any_of(site::all_conductors,
                                            [&](Conductor c) { return is_live(c) && all.has(c); });
      if (live && !is_store(grounds, isolation.elements.front()) &&
          !inside(grounds, isolation, e, t))
        work.stays_alive.push_back(fmt::format("{} (from {})", terminal_words(grounds.site, e, t),
                                               joined(names_of(grounds, lock.holds_off))));
    }
  }
}

void add_stores(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  for (std::size_t e = 0; e < grounds.site.elements.size(); ++e) {
    if (!is_store(grounds, e)) continue;
    const bool own = std::ranges::count(isolation.elements, e) > 0;
    std::vector<std::string> names;
    for (const LockPoint& lock : isolation.locks)
      if (own || std::ranges::count(lock.holds_off, e) > 0)
        names.push_back(grounds.name(element_of(grounds, lock)));
    if (names.empty() && std::ranges::count(isolation.stays_live, e) == 0) continue;
    const std::string until = names.empty() ? "" : fmt::format(" up to {}", fmt::join(names, ", "));
    work.stays_alive.push_back(
        fmt::format("{}{}: {}", grounds.name(e), until,
                    is<site::Battery>(grounds, e)
                        ? "a battery cannot be switched off; work on it only as its maker says"
                        : "alive by daylight"));
  }
}

/// Bars in the enclosures of the work and of its locks that some source can still reach.
void add_bars_nearby(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  std::vector<std::size_t> assemblies;
  const auto add = [&](std::size_t e) {
    const std::size_t a = grounds.site.elements[e].assembly;
    if (a != none && std::ranges::count(assemblies, a) == 0) assemblies.push_back(a);
  };
  for (const std::size_t e : isolation.elements)
    add(e);
  for (const LockPoint& lock : isolation.locks)
    add(element_of(grounds, lock));
  std::ranges::sort(assemblies);
  for (const std::size_t a : assemblies) {
    std::vector<std::string> bars;
    for (std::size_t e = 0; e < grounds.site.elements.size(); ++e)
      if (grounds.site.elements[e].assembly == a && is<site::Busbar>(grounds, e) &&
          !inside(grounds, isolation, e, 0))
        bars.push_back(grounds.name(e));
    if (!bars.empty())
      work.stays_alive.push_back(fmt::format("in {}: {} (alive, or may become so)",
                                             grounds.site.assemblies[a].designation,
                                             fmt::join(bars, ", ")));
  }
}

void add_neutral(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  std::vector<std::string> names;
  for (const LockPoint& lock : isolation.locks) {
    const site::Element& device = grounds.site.elements[element_of(grounds, lock)];
    const auto neutral = site::Conductors{Conductor::n} & device.conductors;
    if (!neutral.empty() && !network::broken_by(device).opened.has(Conductor::n))
      names.push_back(device.designation);
  }
  if (!names.empty())
    work.stays_alive.push_back(fmt::format("N: {} {} not open it; treat it as live",
                                           fmt::join(names, ", "),
                                           names.size() == 1 ? "does" : "do"));
}

/// Sources that must stand still during the work: those inside, and the inverters that a battery or
/// PV is parted from, since they would feed the side that is proved dead.
std::vector<std::size_t> standing_still(const Grounds& grounds, const Isolation& isolation) {
  std::vector<std::size_t> elements;
  const auto add = [&](std::size_t e) {
    if (std::ranges::count(elements, e) == 0) elements.push_back(e);
  };
  for (const std::size_t s : isolation.stopped)
    add(grounds.network.sources[s].element);
  if (isolation.elements.size() == 1 && is_store(grounds, isolation.elements.front()))
    for (const LockPoint& lock : isolation.locks)
      for (const std::size_t e : lock.holds_off)
        if (is<site::Inverter>(grounds, e)) add(e);
  return elements;
}

void add_waits(const Grounds& grounds, const Isolation& isolation, DeadWork& work) {
  for (const std::size_t e : standing_still(grounds, isolation)) {
    if (is<site::Inverter>(grounds, e))
      work.waits.push_back(
          fmt::format("{}: its capacitors hold their charge, at its DC terminals too; wait the "
                      "maker's discharge "
                      "time (on the nameplate or in the manual, 5 to 45 minutes by type)",
                      grounds.name(e)));
    if (is<site::Generator>(grounds, e))
      work.waits.push_back(
          fmt::format("{}: lock its starter as well and disconnect its starting battery; hot parts",
                      grounds.name(e)));
  }
}

void note_what_stays(const Grounds& grounds, const Isolation& isolation,
                     std::vector<std::string>& open) {
  for (const std::size_t e : isolation.stays_live) {
    if (std::ranges::count(isolation.elements, e) > 0) continue;
    if (is<site::Supply>(grounds, e))
      open.push_back(
          "nothing on site opens between the supply and the work: only the distributor "
          "can switch it off");
    else
      open.push_back(fmt::format("nothing opens between {} and the work", grounds.name(e)));
  }
}

}  // namespace

std::vector<std::size_t> elements_named(const site::Site& site, const std::string& designation) {
  std::vector<std::size_t> elements;
  const auto live = [](const site::Element& element) {
    return !(element.conductors & (site::lines | site::direct_current)).empty();
  };
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    const site::Element& element = site.elements[e];
    const bool in =
        element.assembly != none && site.assemblies[element.assembly].designation == designation;
    if ((in && live(element)) || element.designation == designation) elements.push_back(e);
  }
  return elements;
}

network::Goal goal_of(const Grounds& grounds, const Isolation& isolation) {
  network::Goal goal;
  goal.positions.resize(grounds.network.switches.size());
  goal.running.resize(grounds.network.sources.size());
  goal.outlasts_supply = true;
  for (const std::size_t s : isolation.stopped)
    goal.running[s] = false;
  for (const LockPoint& lock : isolation.locks) {
    goal.positions[static_cast<std::size_t>(lock.by)] = lock.position;
    const site::Element& device = grounds.site.elements[element_of(grounds, lock)];
    if ((device.conductors & site::direct_current).empty()) continue;
    for (std::size_t s = 0; s < grounds.network.sources.size(); ++s)
      if (std::ranges::count(lock.holds_off, grounds.network.sources[s].element) > 0)
        goal.running[s] = false;
  }
  for (std::size_t s = 0; s < grounds.network.sources.size(); ++s)
    if (grounds.network.sources[s].utility) goal.running[s].reset();
  return goal;
}

DeadWork dead_work(const Grounds& grounds, const Isolation& isolation, const std::string& part,
                   std::vector<std::string>& open) {
  DeadWork work{.part = part};
  for (const LockPoint& lock : isolation.locks) {
    work.locks.push_back(row_of(grounds, lock));
    note_what_is_missing(grounds, lock, open);
  }
  for (const std::size_t e : standing_still(grounds, isolation))
    work.kept_off.push_back(grounds.name(e));
  add_waits(grounds, isolation, work);
  add_proof_places(grounds, isolation, work);
  add_far_sides(grounds, isolation, work);
  add_stores(grounds, isolation, work);
  add_bars_nearby(grounds, isolation, work);
  add_neutral(grounds, isolation, work);
  note_what_stays(grounds, isolation, open);
  return work;
}

}  // namespace linewright::documents
