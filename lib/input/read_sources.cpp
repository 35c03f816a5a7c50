#include <utility>

#include <fmt/core.h>

#include "input/chains.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/store_parts.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

using site::Conductor;
using site::none;

enum class Kind { hybrid, battery, pv };
constexpr Choice<Kind> kinds[] = {
    {"hybrid", Kind::hybrid}, {"battery", Kind::battery}, {"pv", Kind::pv}};
constexpr Choice<site::Forming> formings[] = {{"forming", site::Forming::grid_forming},
                                              {"following", site::Forming::grid_following},
                                              {"grid forming", site::Forming::grid_forming},
                                              {"grid following", site::Forming::grid_following}};
constexpr Choice<site::IslandNeutral> island_neutrals[] = {{"opened", site::IslandNeutral::opened},
                                                           {"joined", site::IslandNeutral::joined}};
constexpr Choice<site::BondContact> bonds[] = {
    {"closes in island", site::BondContact::closes_in_island},
    {"none", site::BondContact::absent},
    {"always closed", site::BondContact::always_closed},
    {"stays open", site::BondContact::stays_open}};
constexpr Choice<bool> rests[] = {{"open", false}, {"closed", true}};
constexpr Choice<site::Separation> separations[] = {{"none", site::Separation::none},
                                                    {"simple", site::Separation::simple},
                                                    {"transformer", site::Separation::transformer}};
constexpr Choice<site::NeutralLink> neutrals[] = {{"floating", site::NeutralLink::none},
                                                  {"linked", site::NeutralLink::fixed}};
constexpr Choice<site::Winding> windings[] = {{"line-neutral", site::Winding::line_neutral},
                                              {"centre-tapped", site::Winding::centre_tapped}};

constexpr Choice<site::ParallelRun> parallel_runs[] = {
    {"never", site::ParallelRun::never},
    {"short transfer", site::ParallelRun::short_transfer},
    {"as agreed", site::ParallelRun::as_agreed}};
constexpr Choice<site::DcEarthing> dc_earthings[] = {{"floating", site::DcEarthing::floating},
                                                     {"earthed", site::DcEarthing::earthed}};

// Lines of a source: its own `phases` and `phase`, its `system`, or those of the site.
void read_phases(Draft& draft, const Fields& fields, std::size_t element) {
  int phases = draft.site.system.phases;
  if (const Node* node = fields.find("system")) {
    site::System system;
    if (read_system(*node, system, draft.mistakes)) {
      phases = system.phases;
      if (draft.site.system.written.empty()) draft.site.system = system;
    }
  }
  if (const Node* node = fields.find("phases")) {
    const std::optional<int> number = count(node, draft.mistakes);
    if (number && *number != 1 && *number != 3)
      draft.mistakes.add(node->where, fmt::format("{} phases", *number), "expected '1' or '3'");
    phases = number.value_or(phases) == 1 ? 1 : 3;
  }
  const std::optional<Conductor> phase = read_phase(fields.find("phase"), draft.mistakes);
  if (phase && fields.find("phases") == nullptr && fields.find("system") == nullptr) phases = 1;
  if (phase && phases == 3)
    draft.mistakes.add(fields.find("phase")->where, "'phase' on a source of three phases",
                       "delete 'phase' or write 'phases: 1'");
  if (phases == 3 && draft.site.system.phases == 1 && !draft.site.system.written.empty())
    draft.mistakes.add(fields.node().where, "a source of three phases on a single-phase site",
                       "write 'phases: 1' or mend the system of the supply");
  draft.phases_of[element] = phases;
  if (phase && phases == 1) draft.phase_of[element] = *phase;
}

void read_lines(const Fields& fields, std::optional<site::Rotation>& rotation, bool& tied,
                Mistakes& to) {
  rotation = read_rotation(fields.find("rotation"), to);
  tied = yes_no(fields.find("lines tied"), to).value_or(false);
}

void read_generator(Draft& draft, const Node& key, const Node& node) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, generator_section, to);
  site::Generator facts;
  facts.power = quantity<ApparentPower>(fields.find("power"), to);
  facts.neutral = choice(fields.find("neutral"), neutrals, to);
  facts.winding = choice(fields.find("winding"), windings, to);
  facts.fixed = yes_no(fields.find("fixed"), to);
  facts.own_rcd = yes_no(fields.find("own rcd"), to);
  facts.subtransient_reactance = number(fields.find("reactance"), to);
  if (facts.subtransient_reactance &&
      !(*facts.subtransient_reactance > 0.0 && *facts.subtransient_reactance < 2.0))
    to.add(fields.find("reactance")->where,
           fmt::format("reactance {} is outside 0 to 2", fields.find("reactance")->text),
           "expected it per unit, such as '0.14'");
  read_for(fields.find("fault current"), facts.fault_current, facts.fault_time, to);
  facts.waveform = text(fields.find("waveform"), to);
  facts.takes_power_back = yes_no(fields.find("takes power back"), to);
  facts.reverse_power_relay = yes_no(fields.find("reverse power relay"), to);
  facts.cool_down = quantity<Time>(fields.find("cool down"), to);
  facts.model = text(fields.find("model"), to);
  facts.excitation = text(fields.find("excitation"), to);
  facts.parallel = choice(fields.find("parallel"), parallel_runs, to);
  read_unearthed(fields, facts.unearthed, to);
  read_lines(fields, facts.rotation, facts.lines_tied, to);
  const std::size_t element = add_element(draft, {.designation = key.text,
                                                  .name = text(fields.find("name"), to),
                                                  .where = key.where,
                                                  .facts = facts});
  read_phases(draft, fields, element);
}

void read_sides(const Fields& fields, site::Inverter& facts, Mistakes& to) {
  const std::optional<Kind> kind = choice(fields.find("kind"), kinds, to);
  facts.hybrid = kind == Kind::hybrid;
  facts.has_backup_side = yes_no(fields.find("backup side"), to).value_or(false);
  facts.forming = choice(fields.find("grid"), formings, to);
  if (facts.forming) return;
  if (facts.has_backup_side)
    facts.forming = site::Forming::grid_forming;
  else if (kind == Kind::pv)
    facts.forming = site::Forming::grid_following;
}

site::Inverter read_inverter_facts(const Fields& fields, Mistakes& to) {
  site::Inverter facts;
  read_sides(fields, facts, to);
  facts.power = quantity<ApparentPower>(fields.find("power"), to);
  read_for(fields.find("surge"), facts.surge, facts.surge_time, to);
  facts.pass_through = quantity<Current>(fields.find("pass through"), to);
  read_for(fields.find("fault current"), facts.fault_current, facts.fault_time, to);
  facts.island_neutral = choice(fields.find("neutral in island"), island_neutrals, to);
  facts.bond = choice(fields.find("bond"), bonds, to);
  facts.bond_rests_closed = choice(fields.find("bond rest"), rests, to);
  facts.separation = choice(fields.find("separation"), separations, to);
  facts.model = text(fields.find("model"), to);
  facts.dc_earthing = choice(fields.find("dc side"), dc_earthings, to);
  facts.declared_rcd_type = rcd_type_word(fields.find("rcd type"), to);
  facts.island_rcd_type = rcd_type_word(fields.find("island rcd type"), to);
  facts.leakage = quantity<Current>(fields.find("leakage"), to);
  facts.no_dc_fault_current = yes_no(fields.find("no dc fault current"), to);
  facts.zero_feed_to_generator = yes_no(fields.find("zero feed to generator"), to);
  facts.frequency_watt = yes_no(fields.find("frequency watt"), to);
  facts.grid_code = text(fields.find("grid code"), to);
  facts.protection = read_protection(fields.find("protection"), to);
  facts.ac_coupled = quantity<ApparentPower>(fields.find("ac coupled up to"), to);
  facts.waveform = text(fields.find("waveform"), to);
  read_unearthed(fields, facts.unearthed, to);
  read_lines(fields, facts.rotation, facts.lines_tied, to);
  return facts;
}

void read_inverter(Draft& draft, const Node& key, const Node& node) {
  Mistakes& to = draft.mistakes;
  const Fields fields(node, inverter_section, to);
  const site::Inverter facts = read_inverter_facts(fields, to);
  const std::size_t element = add_element(draft, {.designation = key.text,
                                                  .name = text(fields.find("name"), to),
                                                  .where = key.where,
                                                  .facts = facts});
  read_phases(draft, fields, element);
  read_pv(draft, fields.find("pv"), element);
  read_batteries(draft, fields.find("battery"), element);
}

// Single-phase sources on a three-phase site that do not say their phase take them in turn.
void deal_phases(Draft& draft) {
  constexpr Conductor turn[] = {Conductor::l1, Conductor::l2, Conductor::l3};
  std::size_t next = 0;
  for (std::size_t i = 0; i < draft.site.elements.size(); ++i) {
    const auto phases = draft.phases_of.find(i);
    if (phases == draft.phases_of.end() || phases->second != 1 || draft.phase_of.contains(i))
      continue;
    draft.phase_of[i] = draft.site.system.phases == 3 ? turn[next++ % 3] : Conductor::l1;
  }
}

template <class Read>
void each_entry(Draft& draft, const Node* map, std::string_view name, Read read) {
  if (map == nullptr) return;
  if (!map->is_map()) {
    draft.mistakes.add(map->where, fmt::format("'{}' is a map of designations", name),
                       "write '-T1: {…}' lines below it");
    return;
  }
  for (std::size_t i = 0; i < map->keys.size() && i < map->items.size(); ++i)
    if (map->keys[i].is_scalar()) read(draft, map->keys[i], map->items[i]);
}

}  // namespace

void read_sources(Draft& draft, const Fields& root) {
  each_entry(draft, root.find("generators"), "generators", read_generator);
  each_entry(draft, root.find("inverters"), "inverters", read_inverter);
  deal_phases(draft);
}

}  // namespace linewright::input
