// Sound things added to a site, and margins made wider.
#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include <fmt/core.h>

#include "input/emit.hpp"
#include "input/read.hpp"
#include "seeded/harmless_kinds.hpp"
#include "seeded/wiring.hpp"
#include "seeded/yaml_tree.hpp"

namespace linewright::tests {
namespace {

using namespace linewright::unit;
using input::Node;
using site::Site;

// ---- in the text ---------------------------------------------------------------------------

/// Changes the expanded tree once.
template <class Change>
void once(const std::string& yaml, const PutText& put, Change change) {
  Node edited = tree_of(*input::show_expanded(yaml));
  change(edited);
  put("once", input::emit(edited), {});
}

void revision(const std::string& yaml, const PutText& put) {
  once(yaml, put, [](Node& root) {
    value_of(*value_of(root, "site"), "revisions")
        ->items.push_back(map_of({{"index", "Z"},
                                  {"date", "2026-11-30"},
                                  {"change", "Names made clearer"},
                                  {"by", "B. Sample"},
                                  {"approved", "A. Sample"}}));
  });
}

void title_block(const std::string& yaml, const PutText& put) {
  once(yaml, put, [](Node& root) {
    Node& title = *value_of(root, "site");
    for (const char* key : {"owner", "address", "drawing", "status", "creator", "approver"})
      if (value_of(title, key) != nullptr) value_of(title, key)->text = "as agreed";
  });
}

void note(const std::string& yaml, const PutText& put) {
  once(yaml, put, [](Node& root) {
    value_of(*value_of(root, "site"), "notes")->items.push_back(word("Labels at eye height"));
  });
}

void unused_type(const std::string& yaml, const PutText& put) {
  once(yaml, put, [](Node& root) {
    add_to_map(root, "types", "for later",
               map_of({{"device", "B16 1P+N"}, {"cable", "3×2.5 mm² 9 m"}}));
  });
}

void signal_cable(const std::string& yaml, const PutText& put) {
  once(yaml, put, [](Node& root) {
    Node link = map_of({{"id", "-W987"}, {"kind", "dry contact"}, {"on loss", "a lamp goes out"}});
    Node list = input::empty_list({});
    list.items = {word("-P1"), word("-T1")};
    input::put(link, word("devices"), list);
    add_to_list(root, "signals", link);
  });
}

/// Circuits of each board with circuits, with the words of where they stand.
template <class Visit>
void each_board(const Node& root, Visit visit) {
  const Node* boards = value_of(root, "boards");
  for (std::size_t i = 0; i < boards->keys.size(); ++i)
    if (value_of(boards->items[i], "circuits") != nullptr) visit(i, boards->keys[i].text);
}

/// A circuit that is sound on every sample: all that may be asked of a socket is there.
Node sound_circuit(const std::string& id, const std::string& phase) {
  return map_of({{"id", id},
                 {"name", "Sockets added"},
                 {"device", "B16 1P+N 30 mA type A 10 kA"},
                 {"cable", "3×2.5 mm² Cu 12 m"},
                 {"load", "0.2 kW"},
                 {"use", "sockets"},
                 {"drive", "no"},
                 {"phase", phase}});
}

void sound_feeder(const std::string& yaml, const PutText& put) {
  const Node root = tree_of(*input::show_expanded(yaml));
  each_board(root, [&](std::size_t i, const std::string& board) {
    Node edited = root;
    value_of(value_of(edited, "boards")->items[i], "circuits")
        ->items.push_back(sound_circuit("-F987", "L1"));
    put(board, input::emit(edited), {});
  });
}

// A board more, fed through a circuit of each board, with a sound circuit on it.
void sound_board(const std::string& yaml, const PutText& put) {
  const bool three = yaml.find("3/N/PE") != std::string::npos;
  const bool neutral_joined = yaml.find("profile: AU") != std::string::npos;
  const std::string poles = !three ? "2P" : neutral_joined ? "3P" : "4P";
  const Node root = tree_of(*input::show_expanded(yaml));
  each_board(root, [&](std::size_t i, const std::string& board) {
    Node edited = root;
    Node& boards = *value_of(edited, "boards");
    value_of(boards.items[i], "circuits")
        ->items.push_back(map_of({{"id", "-F986"},
                                  {"name", "Board added"},
                                  {"feeds", "+A987"},
                                  {"device", fmt::format("C20 {} 10 kA", poles)},
                                  {"cable", three ? "5×6 mm² Cu 9 m" : "3×6 mm² Cu 9 m"}}));
    Node more = map_of({{"name", "Board added"}, {"busbar", "63 A"}, {"material", "insulating"}});
    if (const Node* service = value_of(boards.items[i], "service"))
      input::put(more, word("service"), *service);
    Node list = input::empty_list({});
    list.items.push_back(sound_circuit("-F987", "L1"));
    input::put(more, word("circuits"), list);
    input::put(boards, word("+A987"), more);
    put(board, input::emit(edited), {});
  });
}

void state_at_rest(const std::string& yaml, const PutText& put) {
  Node edited = tree_of(*input::show_expanded(yaml));
  const Node* off = value_of(*value_of(edited, "states"), "off");
  if (off == nullptr) return;
  Node cleaning = *off;
  input::put(cleaning, word("kind"), word("off"));
  add_to_map(edited, "states", "cleaning day", cleaning);
  put("once", input::emit(edited), {});
}

// ---- in the site ---------------------------------------------------------------------------

/// Splits a run in two with an element between that joins whatever passes.
void put_between(Site& edited, std::size_t run, site::Facts facts,
                 std::vector<std::string> terminals, std::string designation) {
  const site::Run whole = edited.runs[run];
  const std::size_t last = terminals.size() - 1;
  const std::size_t e = add_element(edited, std::move(designation), std::move(facts),
                                    std::move(terminals), whole.conductors);
  edited.elements[e].assembly = edited.elements[whole.to.element].assembly;
  edited.runs[run].to = {e, 0};
  site::Run rest = whole;
  rest.designation = whole.designation.empty() ? "" : whole.designation + "b";
  rest.from = {e, last};
  edited.runs.push_back(rest);
}

bool is_ac(const site::Run& run) {
  return (run.conductors & site::direct_current).empty() && !(run.conductors & site::lines).empty();
}

void terminal_block(const Site& site, const PutSite& put) {
  for (std::size_t r = 0; r < site.runs.size(); ++r) {
    if (!is_ac(site.runs[r]) || !site.runs[r].cable) continue;
    Site edited = site;
    put_between(edited, r, site::Busbar{}, {"bar"}, "-X987");
    put(run_name(site, r), std::move(edited));
  }
}

void meter(const Site& site, const PutSite& put) {
  for (std::size_t r = 0; r < site.runs.size(); ++r) {
    if (!is_ac(site.runs[r]) || site.runs[r].cable) continue;
    Site edited = site;
    put_between(edited, r, site::Meter{.two_way = true, .guards = {}, .current_transformers = {}},
                {"1", "2"}, "-P987");
    put(run_name(site, r), std::move(edited));
  }
}

template <class Change>
void each_cable(const Site& site, const PutSite& put, Change change) {
  for (std::size_t r = 0; r < site.runs.size(); ++r) {
    Site edited = site;
    std::optional<site::Cable>& cable = edited.runs[r].cable;
    if (cable && change(*cable)) put(run_name(site, r), std::move(edited));
  }
}

void double_insulation(const Site& site, const PutSite& put) {
  each_cable(site, put, [](site::Cable& cable) {
    if (cable.double_insulated == true) return false;
    cable.double_insulated = true;
    return true;
  });
}

void longer_name(const Site& site, const PutSite& put) {
  each_cable(site, put, [](site::Cable& cable) {
    cable.written += " in steel conduit, painted";
    return true;
  });
}

template <class Change>
void each_device(const Site& site, const PutSite& put, Change change) {
  each<site::Device>(site, [&](std::size_t e, const site::Device&) {
    Site edited = site;
    if (change(facts_of<site::Device>(edited, e))) put(name(site, e), std::move(edited));
  });
}

void more_breaking_capacity(const Site& site, const PutSite& put) {
  each_device(site, put, [](site::Device& device) {
    if (!device.breaking_capacity) return false;
    device.breaking_capacity = 25.0 * kiloampere;
    return true;
  });
}

void may_be_locked(const Site& site, const PutSite& put) {
  each_device(site, put, [](site::Device& device) {
    if (device.lockable == true && device.isolates == true) return false;
    device.lockable = true;
    device.isolates = true;
    return true;
  });
}

void better_type(const Site& site, const PutSite& put) {
  each_device(site, put, [](site::Device& device) {
    if (!device.residual || device.residual->type != site::ResidualType::a) return false;
    device.residual->type = site::ResidualType::b;
    return true;
  });
}

void two_way(const Site& site, const PutSite& put) {
  each_device(site, put, [](site::Device& device) {
    if (device.direction) return false;
    device.direction = site::FeedDirection::two_way;
    return true;
  });
}

void lower_electrode(const Site& site, const PutSite& put) {
  each<site::Electrode>(site, [&](std::size_t e, const site::Electrode& rod) {
    if (!rod.resistance) return;
    Site edited = site;
    facts_of<site::Electrode>(edited, e).resistance = *rod.resistance * 0.5;
    put(name(site, e), std::move(edited));
  });
}

void second_electrode(const Site& site, const PutSite& put) {
  each<site::MainEarthingTerminal>(site, [&](std::size_t met, const auto&) {
    Site edited = site;
    const std::size_t rod = add_element(
        edited, "-XE987", site::Electrode{.resistance = 5.0 * ohm, .type = {}, .measured = {}},
        {"pe"}, {site::Conductor::pe});
    join(edited, {met, 0}, {rod, 0}, {site::Conductor::pe});
    put("once", std::move(edited));
  });
}

void surge_protection(const Site& site, const PutSite& put) {
  for (const std::size_t bar : busbars(site)) {
    Site edited = site;
    site::SurgeProtector spd{.type = "T2",
                             .form = {},
                             .continuous_voltage = 275.0 * volt,
                             .backup_fuse = {},
                             .lead_length = {}};
    const site::Conductors all = site.elements[bar].conductors;
    const std::size_t e = add_element(edited, "-F987", spd, {"1"}, all);
    edited.elements[e].assembly = site.elements[bar].assembly;
    join(edited, {bar, 0}, {e, 0}, all);
    put(name(site, bar), std::move(edited));
  }
}

void lighter_load(const Site& site, const PutSite& put) {
  each<site::LoadGroup>(site, [&](std::size_t e, const site::LoadGroup& load) {
    if (!load.power) return;
    Site edited = site;
    facts_of<site::LoadGroup>(edited, e).power = *load.power * 0.5;
    put(name(site, e), std::move(edited));
  });
}

// A lever keeps apart what stands at one changeover's two sides anyway.
void interlock_more(const Site& site, const PutSite& put) {
  each<site::Device>(site, [&](std::size_t e, const site::Device& device) {
    if (device.kind != site::DeviceKind::changeover) return;
    Site edited = site;
    edited.interlocks.push_back({.where = {},
                                 .means = site::InterlockMeans::mechanical,
                                 .never_together = {{e, "", "I", {}}, {e, "", "II", {}}}});
    put(name(site, e), std::move(edited));
  });
}

constexpr HarmlessKind in_text(std::string_view name, Adds adds,
                               void (*make)(const std::string&, const PutText&)) {
  return {.name = name, .adds = adds, .text = make};
}
constexpr HarmlessKind in_site(std::string_view name, Adds adds,
                               void (*make)(const Site&, const PutSite&)) {
  return {.name = name, .adds = adds, .site = make};
}

constexpr std::array kinds{
    in_text("a revision added", Adds::nothing, revision),
    in_text("title block filled in otherwise", Adds::nothing, title_block),
    in_text("a note added", Adds::nothing, note),
    in_text("a type that nothing uses", Adds::nothing, unused_type),
    in_text("a signal cable added", Adds::something, signal_cable),
    in_text("a sound feeder added", Adds::something, sound_feeder),
    in_text("a sound board added", Adds::something, sound_board),
    in_text("a second state that is off", Adds::something, state_at_rest),
    in_site("a cable split by a terminal block", Adds::something, terminal_block),
    in_site("a meter put into a joint", Adds::something, meter),
    in_site("a cable with double insulation", Adds::something, double_insulation),
    in_site("a longer description of a cable", Adds::nothing, longer_name),
    in_site("more breaking capacity", Adds::something, more_breaking_capacity),
    in_site("a device that can be locked", Adds::something, may_be_locked),
    in_site("an RCD of type B for A", Adds::something, better_type),
    in_site("a device that may be fed from both sides", Adds::something, two_way),
    in_site("a lower electrode", Adds::something, lower_electrode),
    in_site("a second electrode", Adds::something, second_electrode),
    in_site("surge protection added", Adds::something, surge_protection),
    in_site("a lighter load", Adds::something, lighter_load),
    in_site("an interlock of what cannot meet", Adds::something, interlock_more),
};

}  // namespace

std::span<const HarmlessKind> more_of_it() {
  return kinds;
}

}  // namespace linewright::tests
