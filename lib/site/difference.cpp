#include "site/difference.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include <fmt/core.h>

#include "site/fold_changes.hpp"

namespace linewright::site {
namespace {

/// A thing of one version, ready to be compared.
struct Thing {
  std::string key;  ///< the same in both versions; empty: compared by position in `Pairing`
  std::string thing;
  std::string name;
  std::string words;
  std::string part_of;
  std::string part_of_thing;
  Place where;
  std::vector<std::string> drawn_as;
  std::vector<Property> properties;
};

/// Both versions with what each element is called in comparisons: the same on both sides if it is
/// the same element.
struct Compared {
  Version before;
  Version after;
  Partners partners;
  std::set<std::string> old_written;  ///< by the old file itself
  std::set<std::string> new_written;
  std::vector<std::string> old_names;  ///< those of the partners where there are
  std::vector<std::string> new_names;
};

// What one of the files calls by its designation is called so on both sides.
Compared compared(const Version& before, const Version& after) {
  std::set<std::string> written = before.written;
  written.insert(after.written.begin(), after.written.end());
  Compared both{.before = {before.site, written},
                .after = {after.site, written},
                .partners = match_elements(before, after),
                .old_written = before.written,
                .new_written = after.written,
                .old_names = {},
                .new_names = {}};
  both.old_names = element_names(both.before);
  both.new_names = element_names(both.after);
  for (std::size_t i = 0; i < both.old_names.size(); ++i)
    if (both.partners.of_old[i] != none)
      both.old_names[i] = both.new_names[both.partners.of_old[i]];
  return both;
}

std::vector<ChangedProperty> changed(const std::vector<Property>& before,
                                     const std::vector<Property>& after) {
  std::vector<ChangedProperty> list;
  for (const Property& now : after) {
    const auto was = std::ranges::find(before, now.name, &Property::name);
    if (was == before.end())
      list.push_back({now.name, {}, now.value});
    else if (was->value != now.value)
      list.push_back({now.name, was->value, now.value});
  }
  for (const Property& was : before)
    if (std::ranges::find(after, was.name, &Property::name) == after.end())
      list.push_back({was.name, was.value, {}});
  return list;
}

Change change_of(ChangeKind kind, const Thing& thing) {
  Change change{.kind = kind,
                .thing = thing.thing,
                .name = thing.name,
                .words = thing.words,
                .part_of = thing.part_of,
                .part_of_thing = thing.part_of_thing,
                .before = {},
                .after = {},
                .drawn_as = {},
                .properties = {}};
  if (kind == ChangeKind::removed)
    change.before = thing.where;
  else
    change.after = thing.where;
  if (kind != ChangeKind::removed) change.drawn_as = thing.drawn_as;
  return change;
}

Change only_in_one(ChangeKind kind, const Thing& thing) {
  Change change = change_of(kind, thing);
  for (const Property& property : thing.properties)
    if (kind == ChangeKind::added)
      change.properties.push_back({property.name, {}, property.value});
    else
      change.properties.push_back({property.name, property.value, {}});
  return change;
}

void compare(const Thing& before, const Thing& after, std::vector<Change>& into) {
  Change change = change_of(ChangeKind::changed, after);
  change.before = before.where;
  if (before.name != after.name)
    change.properties.push_back({"designation", before.name, after.name});
  const auto rest = changed(before.properties, after.properties);
  change.properties.insert(change.properties.end(), rest.begin(), rest.end());
  if (!change.properties.empty()) into.push_back(std::move(change));
}

/// Compares things of equal keys, the n-th of a key with the n-th.
void compare_by_key(const std::vector<Thing>& before, const std::vector<Thing>& after,
                    std::vector<Change>& into) {
  std::map<std::string, std::vector<const Thing*>> left;
  for (const Thing& thing : before)
    left[thing.key].push_back(&thing);
  for (auto& [key, things] : left)
    std::ranges::reverse(things);
  for (const Thing& thing : after) {
    auto found = left.find(thing.key);
    if (found == left.end() || found->second.empty()) {
      into.push_back(only_in_one(ChangeKind::added, thing));
      continue;
    }
    compare(*found->second.back(), thing, into);
    found->second.pop_back();
  }
  for (const Thing& thing : before) {
    const auto& rest = left.at(thing.key);
    if (std::ranges::find(rest, &thing) != rest.end())
      into.push_back(only_in_one(ChangeKind::removed, thing));
  }
}

std::string board_of(const Site& site, const Element& element) {
  return element.assembly == none ? std::string() : site.assemblies[element.assembly].designation;
}

// A circuit is its device: what hangs on it is told with it, and gives it its name.
void join_circuits(const Version& version, const std::vector<std::string>& own_names,
                   std::vector<Thing>& things) {
  const Site& site = version.site;
  for (const Run& run : site.runs) {
    const Element& device = site.elements[run.from.element];
    const Element& load = site.elements[run.to.element];
    if (facts<LoadGroup>(load) == nullptr || !version.written.contains(device.designation))
      continue;
    if (version.written.contains(load.designation)) continue;
    Thing& part = things[run.to.element];
    part.part_of = own_names[run.from.element];
    part.part_of_thing = kind_words(device.facts);
    if (device.name.empty()) things[run.from.element].words = load.name;
  }
}

std::vector<Thing> elements_of(const Version& version, const std::vector<std::string>& names,
                               const std::vector<std::string>& own_names) {
  std::vector<Thing> things;
  const Site& site = version.site;
  for (std::size_t i = 0; i < site.elements.size(); ++i) {
    const Element& element = site.elements[i];
    Properties list;
    list.add("board", board_of(site, element))
        .add("name", element.name)
        .add("conductors", words(element.conductors));
    std::vector<Property> all = list.take();
    const auto facts = properties_of(element.facts, [&](std::size_t e) { return names.at(e); });
    all.insert(all.end(), facts.begin(), facts.end());
    things.push_back({.key = {},
                      .thing = kind_words(element.facts),
                      .name = own_names[i],
                      .words = element.name,
                      .part_of = {},
                      .part_of_thing = {},
                      .where = element.where,
                      .drawn_as = {element.designation},
                      .properties = std::move(all)});
  }
  join_circuits(version, own_names, things);
  return things;
}

// What is new or gone is told with what it is joined to; of the rest the runs tell.
void add_neighbours(const Version& version, const std::vector<std::string>& names,
                    std::vector<Thing>& things) {
  std::vector<std::vector<std::string>> beside(things.size());
  for (const Run& run : version.site.runs) {
    beside[run.from.element].push_back(names.at(run.to.element));
    beside[run.to.element].push_back(names.at(run.from.element));
  }
  for (std::size_t i = 0; i < things.size(); ++i) {
    std::ranges::sort(beside[i]);
    beside[i].erase(std::unique(beside[i].begin(), beside[i].end()), beside[i].end());
    const auto joined_to = Properties().add("connected to", beside[i]).take();
    things[i].properties.insert(things[i].properties.end(), joined_to.begin(), joined_to.end());
  }
}

void compare_elements(const Compared& both, std::vector<Change>& into) {
  const auto olds = elements_of(both.before, both.old_names, element_names(both.before));
  const auto news = elements_of(both.after, both.new_names, both.new_names);
  auto gone = olds;
  auto fresh = news;
  add_neighbours(both.before, both.old_names, gone);
  add_neighbours(both.after, both.new_names, fresh);
  for (std::size_t i = 0; i < news.size(); ++i) {
    const std::size_t partner = both.partners.of_new[i];
    if (partner == none) {
      into.push_back(only_in_one(ChangeKind::added, fresh[i]));
      continue;
    }
    Thing before = olds[partner];
    // A name that was made up is not a designation that changed.
    if (!both.before.written.contains(before.name) || !both.after.written.contains(news[i].name))
      before.name = news[i].name;
    Thing after = news[i];
    if (before.thing != after.thing && both.before.site.elements[partner].facts.index() !=
                                           both.after.site.elements[i].facts.index()) {
      before.properties.insert(before.properties.begin(), {"what it is", before.thing});
      after.properties.insert(after.properties.begin(), {"what it is", after.thing});
    }
    compare(before, after, into);
  }
  for (std::size_t i = 0; i < olds.size(); ++i)
    if (both.partners.of_old[i] == none) into.push_back(only_in_one(ChangeKind::removed, gone[i]));
}

/// A run with its ends in the words that both versions share.
struct NamedRun {
  Thing thing;
  bool implied = false;     ///< a joint of an element that is not in the other version
  std::string designation;  ///< empty if made up
  std::string ends;
  std::string far_end;
};

std::string end_words(const Site& site, const Terminal& end,
                      const std::vector<std::string>& names) {
  return fmt::format("{}:{}", names.at(end.element),
                     site.elements[end.element].terminals.at(end.terminal));
}

// A cable without a name of its own belongs to the device that it leaves, a joint to what it leads
// to.
void tell_owner(const Version& version, const Run& run, const std::vector<std::string>& names,
                Thing& thing) {
  const auto own = [&](std::size_t element) {
    const Element& owner = version.site.elements[element];
    if (!thing.part_of.empty() || !version.written.contains(owner.designation)) return;
    thing.part_of = names.at(element);
    thing.part_of_thing = kind_words(owner.facts);
  };
  own(run.cable ? run.from.element : run.to.element);
  own(run.cable ? run.to.element : run.from.element);
}

std::vector<NamedRun> runs_of(const Version& version, const std::set<std::string>& written_here,
                              const std::vector<std::string>& names,
                              const std::vector<std::size_t>& partners) {
  std::vector<NamedRun> runs;
  for (const Run& run : version.site.runs) {
    const std::string from = end_words(version.site, run.from, names);
    const std::string to = end_words(version.site, run.to, names);
    const bool written = written_here.contains(run.designation);
    Properties list;
    list.add("from", from).add("to", to).add("conductors", words(run.conductors));
    NamedRun named{.thing = {.key = {},
                             .thing = run.cable ? "cable" : "joint",
                             .name = written ? run.designation : fmt::format("{} to {}", from, to),
                             .words = {},
                             .part_of = {},
                             .part_of_thing = {},
                             .where = run.where,
                             .drawn_as = {},
                             .properties = list.take()},
                   .implied = !run.cable && (partners[run.from.element] == none ||
                                             partners[run.to.element] == none),
                   .designation = written ? run.designation : std::string(),
                   .ends = fmt::format("{} {}", std::min(from, to), std::max(from, to)),
                   .far_end = to};
    if (!written) tell_owner(version, run, names, named.thing);
    if (!run.designation.empty()) named.thing.drawn_as.push_back(run.designation);
    if (!written) {
      named.thing.drawn_as.push_back(version.site.elements[run.to.element].designation);
      named.thing.drawn_as.push_back(version.site.elements[run.from.element].designation);
    }
    if (run.cable) {
      const auto cable = properties_of(*run.cable);
      named.thing.properties.insert(named.thing.properties.end(), cable.begin(), cable.end());
    }
    runs.push_back(std::move(named));
  }
  return runs;
}

/// Gives runs without a key the same one where `sign` says the same and is not empty.
template <class Sign>
void join_runs(std::vector<NamedRun>& before, std::vector<NamedRun>& after, const Sign& sign,
               std::size_t& last) {
  std::map<std::string, std::vector<std::size_t>> left;
  for (std::size_t i = before.size(); i-- > 0;)
    if (before[i].thing.key.empty() && !sign(before[i]).empty()) left[sign(before[i])].push_back(i);
  for (NamedRun& run : after) {
    if (!run.thing.key.empty()) continue;
    const auto found = left.find(sign(run));
    if (found == left.end() || found->second.empty()) continue;
    NamedRun& partner = before[found->second.back()];
    found->second.pop_back();
    run.thing.key = partner.thing.key = "run " + std::to_string(++last);
    // A name made up of the ends is no designation that changed.
    if (run.designation.empty() || partner.designation.empty()) partner.thing.name = run.thing.name;
  }
}

std::vector<Thing> things_of(const std::vector<NamedRun>& runs, std::size_t& last) {
  std::vector<Thing> things;
  for (const NamedRun& run : runs) {
    if (run.thing.key.empty() && run.implied) continue;
    things.push_back(run.thing);
    if (things.back().key.empty()) things.back().key = "run " + std::to_string(++last);
  }
  return things;
}

void compare_runs(const Compared& both, std::vector<Change>& into) {
  std::vector<NamedRun> olds =
      runs_of(both.before, both.old_written, both.old_names, both.partners.of_old);
  std::vector<NamedRun> news =
      runs_of(both.after, both.new_written, both.new_names, both.partners.of_new);
  std::size_t last = 0;
  join_runs(olds, news, [](const NamedRun& run) { return run.designation; }, last);
  join_runs(olds, news, [](const NamedRun& run) { return run.ends; }, last);
  join_runs(
      olds, news,
      [](const NamedRun& run) { return run.designation.empty() ? run.far_end : std::string(); },
      last);
  compare_by_key(things_of(olds, last), things_of(news, last), into);
}

std::string position_words(const PositionOf& position, const std::vector<std::string>& names) {
  return names.at(position.element) + (position.part.empty() ? "" : " " + position.part) + " " +
         position.position;
}

std::vector<std::string> positions_words(const std::vector<PositionOf>& positions,
                                         const std::vector<std::string>& names) {
  std::vector<std::string> all;
  for (const PositionOf& position : positions)
    all.push_back(position_words(position, names));
  std::ranges::sort(all);
  return all;
}

std::vector<std::string> sorted_names(const std::vector<std::size_t>& elements,
                                      const std::vector<std::string>& names) {
  std::vector<std::string> all;
  for (const std::size_t element : elements)
    all.push_back(names.at(element));
  std::ranges::sort(all);
  return all;
}

std::string first_value(std::vector<Property> list) {
  return list.empty() ? std::string() : std::move(list.front().value);
}

std::string joined(const std::vector<std::string>& words) {
  return first_value(Properties().add("", words).take());
}

Thing state_thing(const State& state, const std::vector<std::string>& names) {
  Properties list;
  list.add("kind", state.kind).add("running", sorted_names(state.running, names));
  for (const PositionOf& position : state.positions)
    list.add(names.at(position.element) + (position.part.empty() ? "" : " " + position.part),
             position.position);
  return {.key = "state " + state.name,
          .thing = "state",
          .name = state.name,
          .words = {},
          .part_of = {},
          .part_of_thing = {},
          .where = state.where,
          .drawn_as = {},
          .properties = list.take()};
}

Thing signal_thing(const Version& version, const SignalLink& signal) {
  const bool written = version.written.contains(signal.designation);
  const std::string name =
      written ? signal.designation : signal.kind + " of " + joined(signal.devices);
  Properties list;
  list.add("kind", signal.kind)
      .add("protocol", signal.protocol)
      .add("devices", signal.devices)
      .add("master", signal.master)
      .add("terminated at", signal.terminated_at)
      .add("on loss", signal.on_loss);
  return {.key = "signal " + name,
          .thing = "signal",
          .name = name,
          .words = {},
          .part_of = {},
          .part_of_thing = {},
          .where = signal.where,
          .drawn_as = {},
          .properties = list.take()};
}

Thing line_thing(std::string thing, const std::string& text) {
  return {.key = thing + " " + text,
          .thing = std::move(thing),
          .name = "'" + text + "'",
          .words = {},
          .part_of = {},
          .part_of_thing = {},
          .where = {},
          .drawn_as = {},
          .properties = {}};
}

Thing list_thing(std::string thing, std::vector<Property> properties, Place where = {}) {
  return {.key = thing,
          .thing = std::move(thing),
          .name = {},
          .words = {},
          .part_of = {},
          .part_of_thing = {},
          .where = where,
          .drawn_as = {},
          .properties = std::move(properties)};
}

void add_title(const Site& site, std::vector<Thing>& into) {
  into.push_back(list_thing("title block", properties_of(site.title)));
  for (const Title::Revision& revision : site.title.revisions) {
    Thing thing = list_thing("revision", Properties()
                                             .add("date", revision.date)
                                             .add("change", revision.change)
                                             .add("by", revision.by)
                                             .add("approved", revision.approved)
                                             .take());
    thing.name = revision.index;
    thing.key += " " + revision.index;
    into.push_back(std::move(thing));
  }
  for (const std::string& note : site.title.notes)
    into.push_back(line_thing("note", note));
}

void add_interlocks(const Site& site, const std::vector<std::string>& names,
                    std::vector<Thing>& into) {
  for (const Interlock& interlock : site.interlocks) {
    const std::string positions = joined(positions_words(interlock.never_together, names));
    Thing thing =
        list_thing("interlock", Properties().add("means", interlock.means).take(), interlock.where);
    thing.name = positions;
    thing.key += " " + positions;
    for (const PositionOf& position : interlock.never_together)
      thing.drawn_as.push_back(site.elements[position.element].designation);
    into.push_back(std::move(thing));
  }
  for (const SynchronisingSet& set : site.synchronising_sets) {
    const std::string sources = joined(sorted_names(set.sources, names));
    Thing thing =
        list_thing("synchronised",
                   Properties().add("transfer together", set.transfer_together).take(), set.where);
    thing.name = sources;
    thing.key += " " + sources;
    into.push_back(std::move(thing));
  }
}

/// What is neither an element nor a run.
std::vector<Thing> other_things(const Version& version, const std::vector<std::string>& names) {
  const Site& site = version.site;
  std::vector<Thing> things;
  add_title(site, things);
  things.push_back(list_thing("permit", properties_of(site.permit)));
  things.push_back(list_thing(
      "profile",
      Properties().add("rules of", site.profile.empty() ? "not said" : site.profile).take(),
      site.profile_where));
  things.push_back(list_thing("system", properties_of(site.system)));
  for (const Assembly& assembly : site.assemblies)
    things.push_back({.key = "assembly " + assembly.designation,
                      .thing = std::string(word(assembly.kind)),
                      .name = assembly.designation,
                      .words = assembly.name,
                      .part_of = {},
                      .part_of_thing = {},
                      .where = assembly.where,
                      .drawn_as = {assembly.designation},
                      .properties = properties_of(assembly)});
  for (const State& state : site.states)
    things.push_back(state_thing(state, names));
  add_interlocks(site, names, things);
  for (const SignalLink& signal : site.signals)
    things.push_back(signal_thing(version, signal));
  return things;
}

// A circuit of which only a part changed is still called by its user's words.
void add_words(const Compared& both, std::vector<Change>& changes) {
  std::map<std::string, std::string> words_of;
  for (const Thing& thing : elements_of(both.after, both.new_names, both.new_names))
    words_of.emplace(thing.name, thing.words);
  for (Change& change : changes)
    if (const auto found = words_of.find(change.name);
        change.words.empty() && found != words_of.end())
      change.words = found->second;
}

bool later_in_file(const Change& a, const Change& b) {
  const bool a_gone = a.kind == ChangeKind::removed;
  const bool b_gone = b.kind == ChangeKind::removed;
  if (a_gone != b_gone) return b_gone;
  return a_gone ? a.before < b.before : a.after < b.after;
}

}  // namespace

std::vector<Change> difference(const Version& before, const Version& after) {
  const Compared both = compared(before, after);
  std::vector<Change> changes;
  compare_by_key(other_things(before, both.old_names), other_things(after, both.new_names),
                 changes);
  compare_elements(both, changes);
  compare_runs(both, changes);
  changes = folded(changes);
  add_words(both, changes);
  std::ranges::stable_sort(changes, later_in_file);
  return changes;
}

}  // namespace linewright::site
