#include <array>
#include <string>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "input/expand.hpp"
#include "input/fields.hpp"
#include "input/nearest.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

enum class Interior { two_sources, one_source, manual, inlet, explicit_one };

constexpr Choice<Interior> interiors[] = {{"two sources with bypass", Interior::two_sources},
                                          {"one source with bypass", Interior::one_source},
                                          {"manual changeover", Interior::manual},
                                          {"generator inlet", Interior::inlet},
                                          {"explicit", Interior::explicit_one}};

// The keys of `panel` that each interior reads, besides those that all of them have.
struct Reads {
  Interior interior;
  std::string_view key;
};
constexpr std::array<Reads, 21> reads{{
    {Interior::two_sources, "grid"},      {Interior::two_sources, "generator"},
    {Interior::two_sources, "inverters"}, {Interior::two_sources, "changeover"},
    {Interior::two_sources, "bypass"},    {Interior::one_source, "grid"},
    {Interior::one_source, "inverters"},  {Interior::one_source, "changeover"},
    {Interior::one_source, "bypass"},     {Interior::manual, "grid"},
    {Interior::manual, "generator"},      {Interior::manual, "inverter"},
    {Interior::manual, "changeover"},     {Interior::inlet, "grid"},
    {Interior::inlet, "generator"},       {Interior::inlet, "changeover"},
    {Interior::inlet, "inlet"},           {Interior::explicit_one, "busbars"},
    {Interior::explicit_one, "devices"},  {Interior::explicit_one, "chains"},
    {Interior::explicit_one, "ports"},
}};

bool is_three_phase(const Node& root) {
  for (const std::string_view section : {"supply", "generators", "inverters"}) {
    const Node* part = find_key(root, section);
    if (part == nullptr) continue;
    const Node* system = find_key(*part, "system");
    if (system != nullptr) return system->text.starts_with('3');
    for (const Node& each : part->items)
      if (const Node* inner = find_key(each, "system")) return inner->text.starts_with('3');
  }
  return false;
}

bool has_word(const std::string& line, std::string_view phrase) {
  const std::string words = " " + plain(line) + " ";
  return words.find(" " + plain(phrase) + " ") != std::string::npos;
}

bool has_poles(const std::string& line) {
  for (const std::string_view poles : {"1p", "1p+n", "2p", "3p", "3p+n", "4p"})
    if (has_word(line, poles)) return true;
  return false;
}

// What a ready-made interior is built from: one map for the assembly, one for the states.
class Panel {
 public:
  Panel(const Node& node, Node& root, Names& names, Mistakes& mistakes)
      : fields_(node, panel_section, mistakes),
        names_(names),
        mistakes_(mistakes),
        where_(node.where),
        poles_(is_three_phase(root) ? "4P" : "2P"),
        assembly_(empty_map(node.where)),
        states_(empty_map(node.where)) {}

  void build(Interior interior) {
    refuse_unread(interior);
    head(interior);
    switch (interior) {
      case Interior::two_sources:
        return two_sources();
      case Interior::one_source:
        return one_source();
      case Interior::manual:
      case Interior::inlet:
        return manual(interior);
      case Interior::explicit_one:
        return keep();
    }
  }

  Node take_assembly() { return std::move(assembly_); }
  Node take_states() { return std::move(states_); }

 private:
  Node word(std::string text) const { return scalar(std::move(text), where_); }

  void refuse_unread(Interior interior) {
    for (const Reads& each : reads) {
      const Node* value = fields_.find(each.key);
      if (value == nullptr) continue;
      bool is_read = false;
      for (const Reads& other : reads)
        is_read = is_read || (other.interior == interior && other.key == each.key);
      if (!is_read)
        mistakes_.add(value->where, fmt::format("this interior has no '{}'", each.key),
                      "delete it or choose another interior");
    }
  }

  void head(Interior interior) {
    for (const std::string_view key : {"name", "earth", "links"})
      if (const Node* value = fields_.find(key)) put(assembly_, word(std::string(key)), *value);
    put(assembly_, word("kind"), word("transfer panel"));
    if (interior == Interior::explicit_one) return;
    for (const Choice<Interior>& each : interiors)
      if (each.value == interior) put(assembly_, word("ready made"), word(std::string(each.word)));
  }

  /// Adds a device from the words the panel gives for it; its designation.
  std::string device(std::string_view key, std::string_view kind, std::string_view poles,
                     const std::string& usual) {
    const Node* given = fields_.find(key);
    Node line = given == nullptr ? word("") : *given;
    const Place where = line.where;
    std::string designation;
    if (line.is_map()) designation = take_out(line, "id").text;
    Node* words = line.is_map() ? &map_under(line, "device") : &line;
    if (words->is_map() || words->is_nothing()) *words = scalar("", words->where);
    complete(*words, kind, poles, designation);
    if (designation.empty()) designation = names_.wanted(usual);
    put(map_under(assembly_, "devices"), scalar(designation, where), std::move(line));
    return designation;
  }

  static void complete(Node& line, std::string_view kind, std::string_view poles,
                       std::string& designation) {
    if (!line.is_scalar()) return;  // reported when it is read
    std::string rest;
    bool first = true;
    for (const Word& each : words_of(line)) {
      if (first && is_designation(each.text)) {
        designation = each.text;
      } else {
        rest += (rest.empty() ? "" : " ") + each.text;
      }
      first = false;
    }
    const bool says_kind = has_word(rest, "changeover") || has_word(rest, "switch disconnector") ||
                           has_word(rest, "switch") || has_word(rest, "contactor") ||
                           has_word(rest, "breaker") || has_word(rest, "inlet");
    std::string text = says_kind ? "" : std::string(kind);
    if (!rest.empty()) text += (text.empty() ? "" : " ") + rest;
    if (!poles.empty() && !has_poles(rest)) text += " " + std::string(poles);
    if (text != line.text) line.text = text;
  }

  std::string busbar(const std::string& usual) {
    std::string designation = names_.wanted(usual);
    put(map_under(assembly_, "busbars"), word(designation), Node{});
    return designation;
  }

  Node& chains() {
    if (Node* list = find_key(assembly_, "chains")) return *list;
    put(assembly_, word("chains"), empty_list(where_));
    return assembly_.items.back();
  }

  /// The items of a chain that the panel gives; reports where it is needed and missing.
  std::vector<Node> given_chain(std::string_view key) {
    const Node* chain = fields_.find(key);
    if (chain != nullptr && chain->is_list()) return chain->items;
    if (chain != nullptr && chain->is_scalar()) return {*chain};
    mistakes_.add(chain == nullptr ? where_ : chain->where,
                  fmt::format("this interior needs '{}'", key),
                  fmt::format("add '{}: [source, cable, device]'", key));
    return {};
  }

  void join(Place where, std::vector<Node> from, const std::vector<Node>& middle,
            const std::string& to) {
    Node chain = empty_list(where);
    chain.items = std::move(from);
    chain.items.insert(chain.items.end(), middle.begin(), middle.end());
    chain.items.push_back(scalar(to, where));
    chains().items.push_back(std::move(chain));
  }
  void join(const std::string& from, const std::string& to) { join(where_, {word(from)}, {}, to); }

  void port(std::string_view name, const std::string& place) {
    put(map_under(assembly_, "ports"), word(std::string(name)), word(place));
  }

  void state(std::string_view name,
             const std::vector<std::pair<std::string, std::string>>& positions) {
    Node one = empty_map(where_);
    for (const auto& [device, position] : positions)
      put(one, word(device), word(position));
    put(states_, word(std::string(name)), std::move(one));
  }

  void inverters(const std::string& from, const std::string& to) {
    const Node* all = fields_.find("inverters");
    if (all == nullptr || !all->is_map()) {
      mistakes_.add(all == nullptr ? where_ : all->where, "this interior needs 'inverters'",
                    "add 'inverters: {-T1: {in: [cable], out: [cable]}}'");
      return;
    }
    for (std::size_t i = 0; i < all->keys.size() && i < all->items.size(); ++i) {
      const Node& key = all->keys[i];
      const Fields side(all->items[i], panel_inverter_section, mistakes_);
      const auto items = [&](std::string_view name) {
        const Node* list = side.find(name);
        if (list == nullptr) return std::vector<Node>{};
        return list->is_list() ? list->items : std::vector<Node>{*list};
      };
      join(key.where, {scalar(from, key.where)}, items("in"), key.text + ":ac");
      join(key.where, {scalar(key.text + ":backup", key.where)}, items("out"), to);
    }
  }

  void bypass(const std::string& in, const std::string& out, const std::string& backup,
              std::string& designation) {
    designation = device("bypass", "changeover I-0-II", poles_, "-Q2");
    inverters(in, out);
    join(out, designation + ":I");
    join(in, designation + ":II");
    join(designation, backup);
    port("backup", backup);
  }

  void two_sources() {
    const std::string change = device("changeover", "changeover I-0-II", poles_, "-Q1");
    const std::string in = busbar("-WB1");
    const std::string out = busbar("-WB2");
    const std::string backup = busbar("-WB3");
    std::vector<Node> grid = given_chain("grid");
    std::vector<Node> generator = given_chain("generator");
    const Place grid_place = grid.empty() ? where_ : grid.front().where;
    const Place generator_place = generator.empty() ? where_ : generator.front().where;
    if (!grid.empty()) join(grid_place, std::move(grid), {}, change + ":I");
    if (!generator.empty()) join(generator_place, std::move(generator), {}, change + ":II");
    join(change, in);
    std::string by;
    bypass(in, out, backup, by);
    port("grid", change + ":I");
    state("grid", {{change, "I"}, {by, "I"}});
    // When the grid fails nothing has been moved yet: the inverters' own contacts part the site.
    state("island", {{change, "I"}, {by, "I"}});
    state("generator", {{change, "II"}, {by, "I"}});
    state("bypass", {{change, "I"}, {by, "II"}});
    state("off", {{change, "0"}, {by, "0"}});
  }

  void one_source() {
    const std::string main = device("changeover", "switch-disconnector", poles_, "-Q1");
    const std::string in = busbar("-WB1");
    const std::string out = busbar("-WB2");
    const std::string backup = busbar("-WB3");
    std::vector<Node> grid = given_chain("grid");
    const Place grid_place = grid.empty() ? where_ : grid.front().where;
    if (!grid.empty()) join(grid_place, std::move(grid), {}, main + ":1");
    join(main + ":2", in);
    std::string by;
    bypass(in, out, backup, by);
    port("grid", main + ":1");
    state("grid", {{main, "closed"}, {by, "I"}});
    state("island", {{main, "closed"}, {by, "I"}});
    state("bypass", {{main, "closed"}, {by, "II"}});
    state("off", {{main, "open"}, {by, "0"}});
  }

  // An inlet stands where the flexible cable of the generator ends: behind its first cable.
  std::vector<Node> with_inlet(std::vector<Node> chain) {
    const Node* given = fields_.find("inlet");
    const std::string rating = given != nullptr && given->is_scalar() ? given->text : "";
    const Place where = given == nullptr ? where_ : given->where;
    std::string line =
        names_.wanted("-X1") + (has_word(rating, "inlet") ? " " : " inlet ") + rating;
    if (line.back() == ' ') line.pop_back();
    std::size_t at = chain.size();
    for (std::size_t i = chain.size(); i-- > 0;)
      if (chain[i].is_scalar() && (chain[i].text.find("mm") != std::string::npos)) at = i + 1;
    chain.insert(chain.begin() + static_cast<std::ptrdiff_t>(at), scalar(line, where));
    return chain;
  }

  void manual(Interior interior) {
    const std::string change = device("changeover", "changeover I-0-II", poles_, "-Q1");
    const std::string backup = busbar("-WB1");
    const bool on_inverter = interior == Interior::manual && fields_.find("inverter") != nullptr;
    std::vector<Node> grid = given_chain("grid");
    std::vector<Node> second = given_chain(on_inverter ? "inverter" : "generator");
    if (interior == Interior::inlet && !second.empty()) second = with_inlet(std::move(second));
    const Place grid_place = grid.empty() ? where_ : grid.front().where;
    const Place second_place = second.empty() ? where_ : second.front().where;
    if (!grid.empty()) join(grid_place, std::move(grid), {}, change + ":I");
    if (!second.empty()) join(second_place, std::move(second), {}, change + ":II");
    join(change, backup);
    port("backup", backup);
    port("grid", change + ":I");
    state("grid", {{change, "I"}});
    state(on_inverter ? "island" : "generator", {{change, "II"}});
    state("off", {{change, "0"}});
  }

  void keep() {
    for (const std::string_view key : {"busbars", "devices", "chains", "ports"})
      if (const Node* value = fields_.find(key)) put(assembly_, word(std::string(key)), *value);
  }

  Fields fields_;
  Names& names_;
  Mistakes& mistakes_;
  Place where_;
  std::string poles_;
  Node assembly_;
  Node states_;
};

// The user's states replace the ready-made ones of the same name, in their place.
void merge_states(Node& root, Node ready_made) {
  if (ready_made.keys.empty()) return;
  Node own = take_out(root, "states");
  if (!own.is_map() && !own.is_nothing()) {
    const Place where = own.where;
    put(root, scalar("states", where), std::move(own));  // reported when it is read
    return;
  }
  for (std::size_t i = 0; i < ready_made.keys.size(); ++i) {
    if (find_key(own, plain(ready_made.keys[i].text)) == nullptr) continue;
    for (std::size_t j = 0; j < own.keys.size(); ++j)
      if (plain(own.keys[j].text) == ready_made.keys[i].text) ready_made.keys[i] = own.keys[j];
    ready_made.items[i] = take_out(own, plain(ready_made.keys[i].text));
  }
  for (std::size_t i = 0; i < own.keys.size() && i < own.items.size(); ++i)
    put(ready_made, own.keys[i], own.items[i]);
  const Place where = ready_made.where;
  put(root, scalar("states", where), std::move(ready_made));
}

}  // namespace

void expand_panel(Node& root, Names& names, Mistakes& mistakes) {
  const Node node = take_out(root, "panel");
  if (node.is_nothing()) return;
  Panel panel(node, root, names, mistakes);
  if (!node.is_map()) return;
  const Node* kind = find_key(node, "interior");
  if (kind == nullptr)
    mistakes.add(node.where, "the panel does not say its interior",
                 "add 'interior:', such as 'two sources with bypass' or 'explicit'");
  const std::optional<Interior> interior = choice(kind, interiors, mistakes);
  const Node* id = find_key(node, "id");
  const Node key = id != nullptr && id->is_scalar() ? *id : scalar("+A", node.where);
  if (id == nullptr)
    mistakes.add(node.where, "the panel has no designation", "add 'id:', such as '+A2'");
  if (!interior) return;
  panel.build(*interior);
  Node& assemblies = map_under(root, "assemblies");
  if (!assemblies.is_map()) return;
  assemblies.keys.insert(assemblies.keys.begin(), key);
  assemblies.items.insert(assemblies.items.begin(), panel.take_assembly());
  merge_states(root, panel.take_states());
}

}  // namespace linewright::input
