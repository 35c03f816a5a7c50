#include <array>
#include <cmath>
#include <utility>

#include <fmt/core.h>

#include "input/device_words.hpp"
#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"
#include "input/words.hpp"

namespace linewright::input {
namespace {

using site::Earthing;
using site::none;

constexpr Choice<Earthing> earthings[] = {{"TN-S", Earthing::tn_s},  {"TN-C-S", Earthing::tn_c_s},
                                          {"TT", Earthing::tt},      {"IT", Earthing::it},
                                          {"MEN", Earthing::tn_c_s}, {"PME", Earthing::tn_c_s}};

void read_fault_current(const Node* node, site::Supply& supply, Mistakes& mistakes) {
  if (node == nullptr) return;
  if (node->is_map()) {
    const Fields fields(*node, fault_current_section, mistakes);
    supply.fault_current_min = quantity<Current>(fields.find("min"), mistakes);
    supply.fault_current_max = quantity<Current>(fields.find("max"), mistakes);
    if (supply.fault_current_min && supply.fault_current_max &&
        *supply.fault_current_max < *supply.fault_current_min)
      mistakes.add(node->where, "the least fault current is above the greatest",
                   "give the smaller one as 'min'");
    return;
  }
  const Range<Current> both = range<Current>(node, mistakes);
  supply.fault_current_min = both.low;
  supply.fault_current_max = both.high;
}

// "3/N/PE": the number of lines, then what comes with them.
bool read_conductor_words(const std::string& word, site::System& system) {
  if (word.size() < 1 || (word[0] != '1' && word[0] != '3')) return false;
  system.phases = word[0] - '0';
  const std::string rest = word.substr(1);
  for (const std::string_view known : {"", "/N", "/N/PE", "/PE", "/PEN", "/N/PEN"})
    if (rest == known) return true;
  return false;
}

bool read_voltages(const std::string& words, const Node& node, site::System& system,
                   Mistakes& mistakes) {
  const std::size_t slash = words.find('/');
  const Node first = scalar(words.substr(0, slash) + " V", node.where);
  system.line_to_earth = quantity<Voltage>(&first, mistakes);
  if (!system.line_to_earth) return false;
  if (slash == std::string::npos) {
    if (system.phases == 1) return true;
    mistakes.add(node.where, fmt::format("{} has one voltage for three phases", quote(node.text)),
                 "expected two voltages, such as '230/400 V'");
    return false;
  }
  const Node second = scalar(words.substr(slash + 1) + " V", node.where);
  system.line_to_line = quantity<Voltage>(&second, mistakes);
  if (!system.line_to_line) return false;
  // Three phases stand 120 degrees apart: the line voltage is the square root of 3 times the other;
  // rated values are rounded (230/400 is 1.739, 240/415 is 1.729).
  const double ratio = system.line_to_line->si / system.line_to_earth->si;
  if (system.phases == 3 && std::abs(ratio - std::sqrt(3.0)) > 0.04) {
    mistakes.add(node.where,
                 fmt::format("{}: line voltages {:.2f} times those to earth", quote(words), ratio),
                 "expected 1.73 times, such as '230/400 V'");
    return false;
  }
  return true;
}

void add_head_run(Draft& draft, site::Terminal from, site::Terminal to) {
  add_run(draft,
          {.designation = {},
           .where = draft.site.elements[to.element].where,
           .from = from,
           .to = to,
           .conductors = {},
           .cable = {}},
          {});
}

void add_service_fuse(Draft& draft, const Node* node, site::Supply& facts) {
  if (node == nullptr) return;
  std::optional<site::Device> fuse = read_fuse(*node, draft.mistakes);
  if (!fuse) return;
  facts.service_fuse = fuse->rated_current;
  facts.service_fuse_curve = fuse->curve;
  if (!fuse->poles)
    fuse->poles =
        draft.site.system.phases == 3 ? site::Poles{3, false, "3P"} : site::Poles{1, false, "1P"};
  const std::size_t element = add_element(draft, {.designation = draft.names.wanted("-F0"),
                                                  .name = "Service fuse",
                                                  .where = node->where,
                                                  .facts = *fuse});
  add_head_run(draft, {draft.supply_end, draft.supply_end == draft.split ? 1U : 0U}, {element, 0});
  draft.supply_end = element;
}

void read_split(Draft& draft, const Node* node, const site::Supply& facts) {
  if (facts.earthing != Earthing::tn_c_s) {
    if (node != nullptr && facts.earthing)
      draft.mistakes.add(node->where, "this supply brings no PEN to split",
                         "delete 'pen split' or write 'earthing: TN-C-S'");
    return;
  }
  const std::optional<PlaceName> at = name_of(node, draft.mistakes);
  if (at && at->text.starts_with('-')) return;  // a device that stands in a chain
  const Place where = node == nullptr ? draft.site.elements[draft.supply].where : node->where;
  draft.split = add_element(draft, {.designation = draft.names.wanted("-X1"),
                                    .name = "PEN split",
                                    .where = where,
                                    .facts = site::PenSplit{}});
  if (at && at->text != "supply") {
    draft.split_at = at;
    return;
  }
  add_head_run(draft, {draft.supply_end, 0}, {draft.split, 0});
  draft.supply_end = draft.split;
}

void read_earthing_word(const Node& supply, const Node* node, site::Supply& facts,
                        const site::System& system, Mistakes& mistakes) {
  facts.earthing = choice(node, earthings, mistakes);
  const bool says_pen = system.written.substr(0, system.written.find(' ')).ends_with("PEN");
  if (says_pen && facts.earthing != Earthing::tn_c_s)
    mistakes.add(node == nullptr ? supply.where : node->where,
                 "the system has a PEN, the earthing none",
                 "write 'earthing: TN-C-S', or the system with '/N/PE'");
  if (facts.earthing)
    facts.earth_offered = *facts.earthing == Earthing::tn_s || *facts.earthing == Earthing::tn_c_s;
  else
    facts.earth_offered = brings_earth(system);
}

}  // namespace

bool brings_earth(const site::System& system) {
  const std::string first = system.written.substr(0, system.written.find(' '));
  return first.find("PE") != std::string::npos;
}

bool brings_neutral(const site::System& system) {
  const std::string first = system.written.substr(0, system.written.find(' ')) + "/";
  return system.written.empty() || first.find("/N/") != std::string::npos;
}

bool read_system(const Node& node, site::System& system, Mistakes& mistakes) {
  const std::optional<std::string> written = value_text(&node, mistakes);
  if (!written) return false;
  const std::vector<Word> words = words_of(node);
  const auto refuse = [&] {
    mistakes.add(node.where, fmt::format("{} is not a system", quote(*written)),
                 "expected conductors and voltage, such as '3/N/PE 230/400 V 50 Hz'");
    return false;
  };
  if (words.empty() || !read_conductor_words(words[0].text, system)) return refuse();
  system.written = *written;
  std::string rest;
  for (std::size_t i = 1; i < words.size(); ++i)
    rest += words[i].text;
  const std::size_t volts = rest.find('V');
  if (volts == std::string::npos) return rest.empty() || refuse();
  if (!read_voltages(rest.substr(0, volts), node, system, mistakes)) return false;
  const std::string frequency = rest.substr(volts + 1);
  if (frequency.empty()) return true;
  const Node hertz = scalar(frequency, node.where);
  system.frequency = quantity<Frequency>(&hertz, mistakes);
  return system.frequency.has_value();
}

void read_supply(Draft& draft, const Fields& root) {
  const Node* node = root.find("supply");
  if (node == nullptr) return;
  const Fields fields(*node, supply_section, draft.mistakes);
  if (!node->is_map()) return;
  const Node* system = fields.find("system");
  if (system == nullptr)
    draft.mistakes.add(node->where, "the supply has no 'system'",
                       "add 'system:', such as '3/N/PE 230/400 V 50 Hz'");
  else
    read_system(*system, draft.site.system, draft.mistakes);
  site::Supply facts;
  read_earthing_word(*node, fields.find("earthing"), facts, draft.site.system, draft.mistakes);
  read_fault_current(fields.find("fault current"), facts, draft.mistakes);
  facts.external_loop = quantity<Resistance>(fields.find("external loop"), draft.mistakes);
  read_monitor(fields, facts.unearthed, draft.mistakes);
  facts.rotation = read_rotation(fields.find("rotation"), draft.mistakes);
  facts.meter_point = text(fields.find("meter point"), draft.mistakes);
  std::string id = text(fields.find("id"), draft.mistakes);
  std::string name = text(fields.find("name"), draft.mistakes);
  draft.supply =
      add_element(draft, {.designation = id.empty() ? draft.names.wanted("-X0") : std::move(id),
                          .name = name.empty() ? "Public supply" : std::move(name),
                          .where = node->where,
                          .facts = facts});
  draft.supply_end = draft.supply;
  read_split(draft, fields.find("pen split"), facts);
  add_service_fuse(draft, fields.find("fuse"), facts);
  std::get<site::Supply>(draft.site.elements[draft.supply].facts) = facts;
}

}  // namespace linewright::input
