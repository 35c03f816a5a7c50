#include "network/network.hpp"

#include <algorithm>
#include <array>

namespace linewright::network {
namespace {

using site::Conductor;
using site::Conductors;
using site::Element;

constexpr std::uint32_t open_bit = 1U;
constexpr std::uint32_t closed_bit = 2U;

class Builder {
 public:
  explicit Builder(const site::Site& site) : site_(site) {}

  Network run() {
    network_.nodes.push_back({});
    network_.earth = 0;
    for (std::size_t e = 0; e < site_.elements.size(); ++e)
      add_nodes(e);
    network_.first_slot.push_back(static_cast<std::uint32_t>(network_.slots.size()));
    for (std::size_t e = 0; e < site_.elements.size(); ++e) {
      begin_element();
      add_element(e);
    }
    begin_element();
    for (std::size_t r = 0; r < site_.runs.size(); ++r)
      add_run(r);
    add_sources();
    return std::move(network_);
  }

 private:
  const Element& element(std::size_t e) const { return site_.elements[e]; }

  void add_nodes(std::size_t e) {
    const auto terminals = element(e).terminals.size();
    auto& slots = network_.slots;
    const std::size_t first = slots.size();
    network_.first_slot.push_back(static_cast<std::uint32_t>(first));
    slots.resize(first + terminals * site::all_conductors.size(), no_node);
    for (std::size_t t = 0; t < terminals; ++t)
      for (const Conductor c : site::all_conductors) {
        if (!element(e).conductors.has(c)) continue;
        slots[first + t * site::all_conductors.size() + static_cast<std::size_t>(c)] =
            static_cast<std::uint32_t>(network_.nodes.size());
        network_.nodes.push_back({e, t, c});
      }
  }

  void begin_element() {
    network_.first_edge.push_back(static_cast<std::uint32_t>(network_.edges.size()));
    network_.first_switch.push_back(static_cast<std::uint32_t>(network_.switches.size()));
  }

  int add_switch(std::size_t e, std::string part, std::vector<std::string> positions, int rest) {
    network_.switches.push_back({e, std::move(part), std::move(positions), rest});
    return static_cast<int>(network_.switches.size()) - 1;
  }

  void join(std::uint32_t a, std::uint32_t b, Edge like) {
    if (a == no_node || b == no_node) return;
    like.a = a;
    like.b = b;
    network_.edges.push_back(like);
  }

  void pass(std::size_t e, std::size_t from, std::size_t to, Conductors which) {
    for (const Conductor c : site::all_conductors)
      if (which.has(c))
        join(network_.node(e, from, c), network_.node(e, to, c),
             {.kind = EdgeKind::passage, .element = e, .conductor = c});
  }

  void bond(std::size_t e, std::size_t terminal, int by, std::uint32_t closed,
            std::uint32_t undecided) {
    join(network_.neutral(e, terminal), network_.node(e, terminal, Conductor::pe),
         {.kind = EdgeKind::bond,
          .element = e,
          .conductor = Conductor::n,
          .by = by,
          .closed_in = closed,
          .undecided_in = undecided});
  }

  void add_element(std::size_t e) {
    const Element& it = element(e);
    if (const auto* device = site::facts<site::Device>(it)) return add_device(e, *device);
    if (const auto* supply = site::facts<site::Supply>(it)) return add_supply(e, *supply);
    if (const auto* inverter = site::facts<site::Inverter>(it)) return add_inverter(e, *inverter);
    if (const auto* link = site::facts<site::Bond>(it)) return add_bond(e, *link);
    if (const auto* generator = site::facts<site::Generator>(it)) {
      if (!generator->neutral)
        bond(e, 0, fixed, 0, 1);
      else if (*generator->neutral == site::NeutralLink::fixed)
        bond(e, 0, fixed, 1, 0);
      return;
    }
    if (site::facts<site::PenSplit>(it)) return add_split(e);
    if (site::facts<site::Electrode>(it))
      return join(network_.node(e, 0, Conductor::pe), network_.earth,
                  {.kind = EdgeKind::earth, .element = e});
    if (site::facts<site::Meter>(it) || site::facts<site::Connector>(it))
      return pass(e, 0, 1, it.conductors);
    if (site::facts<site::Transformer>(it)) pass(e, 0, 1, {Conductor::pe});
  }

  void add_pole(std::size_t e, std::size_t from, std::size_t to, Conductor c, int by,
                std::uint32_t closed, std::uint32_t undecided) {
    join(network_.node(e, from, c), network_.node(e, to, c),
         {.kind = EdgeKind::pole,
          .element = e,
          .conductor = c,
          .by = by,
          .closed_in = closed,
          .undecided_in = undecided});
  }

  void add_device(std::size_t e, const site::Device& device) {
    if (device.kind == site::DeviceKind::changeover) return add_changeover(e, device);
    const Broken broken = broken_by(element(e));
    const int by = add_switch(e, "", {"open", "closed"}, device.rest == "open" ? 0 : 1);
    for (const Conductor c : site::all_conductors) {
      if (broken.opened.has(c))
        add_pole(e, 0, 1, c, by, closed_bit, 0);
      else if (broken.undecided.has(c))
        add_pole(e, 0, 1, c, by, closed_bit, open_bit);
    }
    pass(e, 0, 1, element(e).conductors - broken.opened - broken.undecided);
  }

  void add_changeover(std::size_t e, const site::Device& device) {
    const Broken broken = broken_by(element(e));
    std::vector<std::string> positions;
    int rest = unknown;
    for (const auto& side : device.throws) {
      if (side.position == device.rest || (device.rest == "closed" && side.terminal.empty()))
        rest = static_cast<int>(positions.size());
      positions.push_back(side.position);
    }
    const std::uint32_t all = (1U << positions.size()) - 1U;
    const int by = add_switch(e, "", positions, rest);
    const std::size_t common = site_.find_terminal(e, "common");
    for (std::size_t p = 0; p < device.throws.size(); ++p) {
      if (device.throws[p].terminal.empty()) continue;
      const std::size_t side = site_.find_terminal(e, device.throws[p].terminal);
      if (side == site::none || common == site::none) continue;
      const std::uint32_t here = 1U << p;
      for (const Conductor c : site::all_conductors) {
        if (broken.opened.has(c))
          add_pole(e, side, common, c, by, here, 0);
        else if (broken.undecided.has(c))
          add_pole(e, side, common, c, by, here, all & ~here);
      }
      pass(e, side, common, element(e).conductors - broken.opened - broken.undecided);
    }
  }

  // The supplier's own joint of neutral and earth counts as one wherever it is: at the
  // transformer (TN-S, TT), or where the PEN is split (TN-C-S; see add_split).
  void add_supply(std::size_t e, const site::Supply& supply) {
    const std::uint32_t n = network_.node(e, 0, Conductor::n);
    const std::uint32_t pe = network_.node(e, 0, Conductor::pe);
    const std::uint32_t pen = network_.node(e, 0, Conductor::pen);
    const Edge link{.kind = EdgeKind::bond, .element = e, .conductor = Conductor::n};
    const Edge rod{.kind = EdgeKind::earth, .element = e};
    if (!supply.earthing) {
      Edge maybe = link;
      maybe.closed_in = 0;
      maybe.undecided_in = 1;
      join(n, network_.earth, maybe);
      return;
    }
    switch (*supply.earthing) {
      case site::Earthing::tn_s:
        join(n, pe, link);
        join(pe, network_.earth, rod);
        return;
      case site::Earthing::tt:
        join(n, network_.earth, link);
        return;
      case site::Earthing::tn_c_s:
        join(pen, network_.earth, rod);
        return;
      case site::Earthing::it:
        return;
    }
  }

  void add_split(std::size_t e) {
    pass(e, 0, 1, site::lines);
    const std::uint32_t pen = network_.node(e, 0, Conductor::pen);
    join(pen, network_.node(e, 1, Conductor::n),
         {.kind = EdgeKind::passage, .element = e, .conductor = Conductor::n});
    join(pen, network_.node(e, 1, Conductor::pe),
         {.kind = EdgeKind::bond, .element = e, .conductor = Conductor::pe});
  }

  void add_bond(std::size_t e, const site::Bond& link) {
    if (!link.contact) return bond(e, 0, fixed, 1, 0);
    int rest = unknown;
    if (link.rest) rest = *link.rest == "closed" ? 1 : 0;
    const int by = add_switch(e, "", {"open", "closed"}, rest);
    bond(e, 0, by, closed_bit, 0);
  }

  void add_inverter(std::size_t e, const site::Inverter& inverter) {
    const std::size_t ac = site_.find_terminal(e, "ac");
    const std::size_t backup = site_.find_terminal(e, "backup");
    const std::size_t out = backup != site::none ? backup : ac;
    if (out == site::none) return;
    if (backup != site::none && ac != site::none) add_transfer(e, inverter, ac, backup);
    add_inner_bond(e, inverter, out);
  }

  void add_transfer(std::size_t e, const site::Inverter& inverter, std::size_t ac,
                    std::size_t backup) {
    const int by = add_switch(e, "transfer", {"open", "closed"}, 0);
    for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3})
      add_pole(e, ac, backup, c, by, closed_bit, 0);
    if (!inverter.island_neutral)
      add_pole(e, ac, backup, Conductor::n, by, closed_bit, open_bit);
    else if (*inverter.island_neutral == site::IslandNeutral::opened)
      add_pole(e, ac, backup, Conductor::n, by, closed_bit, 0);
    else
      pass(e, ac, backup, {Conductor::n});
    pass(e, ac, backup, {Conductor::pe});
  }

  void add_inner_bond(std::size_t e, const site::Inverter& inverter, std::size_t out) {
    const bool forming =
        inverter.has_backup_side || inverter.forming == site::Forming::grid_forming;
    if (!inverter.bond) {
      if (forming) bond(e, out, fixed, 0, 1);
      return;
    }
    switch (*inverter.bond) {
      case site::BondContact::absent:
      case site::BondContact::stays_open:
        return;
      case site::BondContact::always_closed:
        return bond(e, out, fixed, 1, 0);
      case site::BondContact::closes_in_island:
        int rest = unknown;
        if (inverter.bond_rests_closed) rest = *inverter.bond_rests_closed ? 1 : 0;
        const int by = add_switch(e, "bond", {"open", "closed"}, rest);
        return bond(e, out, by, closed_bit, 0);
    }
  }

  void add_run(std::size_t r) {
    const site::Run& run = site_.runs[r];
    for (const Conductor c : site::all_conductors)
      if (run.conductors.has(c))
        join(network_.node(run.from.element, run.from.terminal, c),
             network_.node(run.to.element, run.to.terminal, arrives_as(run, c)),
             {.kind = EdgeKind::run, .run = r, .conductor = c});
  }

  void add_sources() {
    for (std::size_t e = 0; e < site_.elements.size(); ++e) {
      SourcePoint point{.element = e};
      if (site::facts<site::Supply>(element(e))) {
        point.utility = true;
      } else if (const auto* inverter = site::facts<site::Inverter>(element(e))) {
        if (!describe(*inverter, point)) continue;
      } else if (!site::facts<site::Generator>(element(e))) {
        continue;
      }
      point.set = set_of(e);
      network_.sources.push_back(point);
    }
  }

  /// Where an inverter makes its voltage and with what it keeps step; false if it has no AC side.
  bool describe(const site::Inverter& inverter, SourcePoint& point) const {
    const std::size_t backup = site_.find_terminal(point.element, "backup");
    point.terminal = backup != site::none ? backup : site_.find_terminal(point.element, "ac");
    if (point.terminal == site::none) return false;
    point.forming = inverter.has_backup_side || inverter.forming == site::Forming::grid_forming;
    if (const int own = network_.find_switch(point.element, "transfer"); own >= 0)
      point.synchronised_at.push_back(own);
    for (const std::size_t at : inverter.synchronises_at) {
      const auto* device = site::facts<site::Device>(site_.elements[at]);
      if (device == nullptr || !site::closed_by_controller_only(*device)) continue;
      if (const int other = network_.find_switch(at); other >= 0)
        point.synchronised_at.push_back(other);
    }
    return true;
  }

  int set_of(std::size_t source) const {
    for (std::size_t s = 0; s < site_.synchronising_sets.size(); ++s)
      if (std::ranges::count(site_.synchronising_sets[s].sources, source) > 0)
        return static_cast<int>(s);
    return -1;
  }

  const site::Site& site_;
  Network network_;
};

}  // namespace

std::uint32_t Network::node(std::size_t element, std::size_t terminal, Conductor c) const {
  if (element == site::none || element + 1 >= first_slot.size()) return no_node;
  const std::size_t slot =
      first_slot[element] + terminal * site::all_conductors.size() + static_cast<std::size_t>(c);
  return slot < first_slot[element + 1] ? slots[slot] : no_node;
}

std::uint32_t Network::neutral(std::size_t element, std::size_t terminal) const {
  const std::uint32_t n = node(element, terminal, Conductor::n);
  return n != no_node ? n : node(element, terminal, Conductor::pen);
}

int Network::find_switch(std::size_t element, std::string_view part) const {
  if (element == site::none || element + 1 >= first_switch.size()) return -1;
  for (std::size_t s = first_switch[element]; s < first_switch[element + 1]; ++s)
    if (switches[s].part == part) return static_cast<int>(s);
  return -1;
}

std::span<const Edge> Network::edges_of(std::size_t element) const {
  if (element == site::none || element + 1 >= first_edge.size()) return {};
  return {edges.data() + first_edge[element], edges.data() + first_edge[element + 1]};
}

Broken broken_by(const Element& device) {
  Broken broken;
  const auto* it = site::facts<site::Device>(device);
  if (it == nullptr) return broken;
  const Conductors all = device.conductors;
  const Conductors live = all & (site::line_and_neutral | site::direct_current);
  if ((all & (site::lines | site::direct_current)).empty()) {
    broken.opened = all;  // a device in a neutral or a protective conductor alone
    return broken;
  }
  broken.opened = live & site::direct_current;
  if (!it->poles) {
    broken.opened = broken.opened | (all & site::lines);
    broken.undecided = all & Conductors{Conductor::n};
    return broken;
  }
  int left = it->poles->line_poles;
  for (const Conductor c : {Conductor::l1, Conductor::l2, Conductor::l3})
    if (all.has(c) && left-- > 0) broken.opened.add(c);
  if (it->poles->neutral)
    for (const Conductor c : {Conductor::n, Conductor::pen})
      if (all.has(c)) broken.opened.add(c);
  return broken;
}

Network build(const site::Site& site) {
  return Builder(site).run();
}

}  // namespace linewright::network
