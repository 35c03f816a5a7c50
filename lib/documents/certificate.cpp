#include "documents/certificate.hpp"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "documents/text_table.hpp"
#include "findings/json.hpp"
#include "network/hazard_words.hpp"

namespace linewright::documents {
namespace {

using network::Certificate;
using network::HazardVerdict;
using network::Mover;
using network::Network;
using network::Outcome;
using network::Refutation;

std::string_view outcome_word(const HazardVerdict& verdict) {
  switch (verdict.outcome) {
    case Outcome::proved:
      return "impossible";
    case Outcome::refuted:
      return "POSSIBLE";
    case Outcome::open:
      return "OPEN";
    case Outcome::not_relevant:
      return "not relevant";
  }
  return {};
}

std::string_view mover_word(const network::Freedom& freedom) {
  switch (freedom.mover) {
    case Mover::hand:
      return freedom.protects ? "by hand, may trip" : "by hand";
    case Mover::controller:
      return "by its controller";
    case Mover::both:
      return "by hand or controller";
    case Mover::not_said:
      return "not said by whom";
    case Mover::law:
      return "follows the site";
    case Mover::nobody:
      return "with a tool only";
  }
  return {};
}

std::string switch_name(const site::Site& site, const network::Switch& it) {
  const std::string& name = site.elements[it.element].designation;
  return it.part.empty() ? name : fmt::format("{} {}", name, it.part);
}

std::string positions_of(const network::Switch& it, const network::Freedom& freedom) {
  std::string text;
  for (const int p : freedom.positions)
    text += (text.empty() ? "" : ", ") +
            (p < 0 ? std::string("not known") : it.positions[static_cast<std::size_t>(p)]);
  return text;
}

std::vector<std::vector<std::string>> examined(const Network& network, const site::Site& site,
                                               const Certificate& certificate) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t s = 0; s < network.switches.size(); ++s)
    rows.push_back({switch_name(site, network.switches[s]),
                    positions_of(network.switches[s], certificate.movement.of[s]),
                    std::string(mover_word(certificate.movement.of[s]))});
  for (const network::SourcePoint& source : network.sources)
    rows.push_back({site.elements[source.element].designation,
                    source.utility ? "alive, dead" : "runs, stands", "source"});
  return rows;
}

std::string told(const Network& network, const site::Site& site, const Refutation& refutation) {
  return fmt::format("    {}: {}\n", network::subject_words(site, refutation.hazard),
                     network::way_words(network, site, refutation));
}

std::string circuit_words(const site::Site& site, std::size_t load) {
  const site::Element& circuit = site.elements[load];
  return circuit.name.empty() ? circuit.designation : circuit.name;
}

std::string verdict_text(const Network& network, const site::Site& site,
                         const HazardVerdict& verdict) {
  std::string text =
      fmt::format("  {:<13} {}\n", outcome_word(verdict), network::words_of(verdict.kind));
  for (const Refutation& refutation : verdict.refutations)
    text += told(network, site, refutation);
  for (const Refutation& refutation : verdict.undecided)
    text += "    not known whether" + told(network, site, refutation).substr(3);
  for (const std::size_t load : verdict.left_out)
    text +=
        fmt::format("    not asked of {}: it fails in named states already, see linewright check\n",
                    circuit_words(site, load));
  for (const std::size_t load : verdict.never_fed)
    text +=
        fmt::format("    not asked of {}: no named state feeds it\n", circuit_words(site, load));
  for (const std::size_t source : verdict.exempt)
    text += fmt::format(
        "    not asked of {}: it runs unearthed for single items, but can feed other circuits\n",
        site.elements[source].designation);
  for (const std::size_t element : verdict.not_followed)
    text += fmt::format("    {}\n", network::not_followed_words(site, element));
  if (verdict.cut_short)
    text += "    too many positions had to be looked at one by one; not decided\n";
  if (verdict.outcome != Outcome::proved) return text;
  for (const std::size_t interlock : verdict.rests_on)
    text +=
        fmt::format("    rests on the interlock, {}\n", network::interlock_words(site, interlock));
  return text;
}

std::string refutations_json(const Network& network, const site::Site& site,
                             const std::vector<Refutation>& refutations) {
  std::string text = "[";
  for (std::size_t i = 0; i < refutations.size(); ++i) {
    const Refutation& it = refutations[i];
    std::vector<std::string> moves;
    for (const network::Move& move : it.moves)
      moves.push_back(network::words_of(network, site, move));
    const std::string nearest =
        it.nearest == site::none ? "null" : findings::json_string(site.states[it.nearest].name);
    text += fmt::format("{}{{\"about\": {}, \"from\": {}, \"moves\": {}}}", i == 0 ? "" : ", ",
                        findings::json_string(network::subject_words(site, it.hazard)), nearest,
                        findings::json_strings(moves));
  }
  return text + "]";
}

std::string_view outcome_key(Outcome outcome) {
  switch (outcome) {
    case Outcome::proved:
      return "impossible";
    case Outcome::refuted:
      return "possible";
    case Outcome::open:
      return "open";
    case Outcome::not_relevant:
      return "not relevant";
  }
  return {};
}

/// Whether something may happen.
bool is_unsafe(const HazardVerdict& verdict) {
  return verdict.outcome == Outcome::refuted || verdict.outcome == Outcome::open;
}

enum class Listed { all, unsafe };

std::string hazards_json(const Network& network, const site::Site& site,
                         const Certificate& certificate, Listed listed) {
  std::string text = "[";
  const char* before = "";
  for (const HazardVerdict& verdict : certificate.verdicts) {
    if (listed == Listed::unsafe && !is_unsafe(verdict)) continue;
    std::vector<std::string> interlocks;
    for (const std::size_t interlock : verdict.rests_on)
      interlocks.push_back(network::interlock_words(site, interlock));
    std::vector<std::string> not_followed;
    for (const std::size_t element : verdict.not_followed)
      not_followed.push_back(site.elements[element].designation);
    text += fmt::format(
        "{}\n    {{\"hazard\": {}, \"outcome\": {}, \"cut_short\": {}, \"not_followed\": {}, "
        "\"rests_on\": {}, \"ways\": {}, \"not_known\": {}}}",
        std::exchange(before, ","), findings::json_string(network::words_of(verdict.kind)),
        findings::json_string(std::string(outcome_key(verdict.outcome))), verdict.cut_short,
        findings::json_strings(not_followed), findings::json_strings(interlocks),
        refutations_json(network, site, verdict.refutations),
        refutations_json(network, site, verdict.undecided));
  }
  return text + "\n  ]";
}

std::string failure_json(const Network& network, const site::Site& site,
                         const SingleFailure& failure) {
  const network::Switch& it = network.switches[static_cast<std::size_t>(failure.stuck.by)];
  return fmt::format(
      "    {{\"device\": {}, \"stays\": {}, \"makes_possible\": {}}}",
      findings::json_string(switch_name(site, it)),
      findings::json_string(it.positions[static_cast<std::size_t>(failure.stuck.position)]),
      hazards_json(network, site, failure.certificate, Listed::unsafe));
}

}  // namespace

std::string certificate_text(const Network& network, const site::Site& site,
                             const Certificate& certificate) {
  const auto moved = std::ranges::count_if(certificate.movement.of, network::is_moved);
  std::string text = fmt::format(
      "Examined: {} switches that can be moved, {} that follow or stand, {} sources, "
      "{} interlocks:\n{} situations allowed.\n\n",
      moved, static_cast<std::ptrdiff_t>(certificate.movement.of.size()) - moved,
      network.sources.size(), certificate.movement.barriers.size(),
      network::words_of(certificate.situations));
  for (const HazardVerdict& verdict : certificate.verdicts)
    text += verdict_text(network, site, verdict);
  text += "\nDevices, positions, who moves them\n" +
          text_table(examined(network, site, certificate), 2);
  if (!certificate.movement.barriers.empty()) text += "\nInterlocks\n";
  for (const network::Barrier& barrier : certificate.movement.barriers)
    text += fmt::format("  {}\n", network::interlock_words(site, barrier.interlock));
  text +=
      "\nIt holds for the site as the file describes it. It advises, it does not certify: check "
      "against local\ncodes, work by licensed people, prove dead before touching.\n";
  return text;
}

std::string certificate_line(const Certificate& certificate) {
  std::string text = fmt::format("{} situations", network::words_of(certificate.situations));
  const char* before = ": ";
  for (const auto& [outcome, words] :
       {std::pair{Outcome::refuted, "possible"}, std::pair{Outcome::open, "open"},
        std::pair{Outcome::proved, "impossible"},
        std::pair{Outcome::not_relevant, "not relevant"}}) {
    const auto count = std::ranges::count(certificate.verdicts, outcome, &HazardVerdict::outcome);
    if (count == 0) continue;
    const bool first = before[0] == ':';
    text += fmt::format("{}{}{} {}", before, count,
                        !first       ? ""
                        : count == 1 ? " hazard"
                                     : " hazards",
                        words);
    before = ", ";
  }
  return text;
}

std::string certificate_json(const Network& network, const site::Site& site,
                             const Certificate& certificate,
                             const std::vector<SingleFailure>* failures) {
  std::string text = fmt::format("{{\n  \"situations\": {},\n  \"devices\": [",
                                 findings::json_string(network::words_of(certificate.situations)));
  const auto rows = examined(network, site, certificate);
  for (std::size_t r = 0; r < rows.size(); ++r)
    text += fmt::format("{}\n    {{\"device\": {}, \"positions\": {}, \"moved\": {}}}",
                        r == 0 ? "" : ",", findings::json_string(rows[r][0]),
                        findings::json_string(rows[r][1]), findings::json_string(rows[r][2]));
  text += fmt::format("\n  ],\n  \"hazards\": {}",
                      hazards_json(network, site, certificate, Listed::all));
  if (failures != nullptr) {
    text += ",\n  \"single_failures\": [";
    for (std::size_t f = 0; f < failures->size(); ++f)
      text += (f == 0 ? "\n" : ",\n") + failure_json(network, site, (*failures)[f]);
    text += "\n  ]";
  }
  return text + "\n}\n";
}

std::string failures_text(const Network& network, const site::Site& site,
                          const std::vector<SingleFailure>& failures) {
  std::string text = "\nOne contact at a time that does not move\n";
  if (failures.empty()) text += "  nothing here moves by itself\n";
  for (const SingleFailure& failure : failures) {
    const network::Switch& it = network.switches[static_cast<std::size_t>(failure.stuck.by)];
    text += fmt::format("  {} stays {}\n", switch_name(site, it),
                        it.positions[static_cast<std::size_t>(failure.stuck.position)]);
    bool harmless = true;
    for (const HazardVerdict& verdict : failure.certificate.verdicts) {
      if (!is_unsafe(verdict)) continue;
      harmless = false;
      text += fmt::format("    {} {}\n", outcome_word(verdict), network::words_of(verdict.kind));
      for (const auto* list : {&verdict.refutations, &verdict.undecided})
        if (!list->empty()) text += "  " + told(network, site, list->front());
    }
    if (harmless) text += "    nothing that is not possible without it\n";
  }
  return text;
}

}  // namespace linewright::documents
