#include "input/sections.hpp"

#include <array>

#include "input/device_line.hpp"

namespace linewright::input {
namespace {

using Words = std::string_view;

constexpr std::array<Words, 18> root_keys{
    "site",   "profile",    "supply",       "earthing", "generators", "inverters",
    "panel",  "boards",     "assemblies",   "devices",  "busbars",    "chains",
    "states", "interlocks", "synchronised", "types",    "signals",    "permit"};
constexpr std::array<Words, 12> title_keys{"name",     "owner",  "address",   "drawing",
                                           "date",     "status", "creator",   "approver",
                                           "language", "paper",  "revisions", "notes"};
constexpr std::array<Words, 14> permit_keys{
    "customer",     "property",          "installer",          "designer licence",
    "standards",    "contracted demand", "ownership boundary", "metering concept",
    "export limit", "isolation point",   "emergency off",      "upstream coordination",
    "operation",    "clearances"};
constexpr std::array<Words, 2> installer_keys{"company", "registration"};
constexpr std::array<Words, 2> export_limit_keys{"limit", "by"};
constexpr std::array<Words, 2> isolation_point_keys{"at", "place"};
constexpr std::array<Words, 3> emergency_keys{"at", "place", "opens"};
constexpr std::array<Words, 5> revision_keys{"index", "date", "change", "by", "approved"};
constexpr std::array<Words, 12> supply_keys{"id",
                                            "name",
                                            "system",
                                            "earthing",
                                            "fault current",
                                            "external loop",
                                            "fuse",
                                            "meter point",
                                            "pen split",
                                            "insulation monitor",
                                            "first fault current",
                                            "rotation"};
constexpr std::array<Words, 2> fault_current_keys{"min", "max"};
constexpr std::array<Words, 6> earthing_keys{"main terminal", "electrodes", "supplier earth",
                                             "links",         "conductor",  "bonding"};
constexpr std::array<Words, 4> electrode_keys{"resistance", "at", "type", "measured"};
constexpr std::array<Words, 11> link_keys{
    "at",        "name", "contact",       "rest",       "closed in",    "proved by",
    "driven by", "size", "power contact", "withstands", "closes within"};
constexpr std::array<Words, 25> generator_keys{"use",
                                               "name",
                                               "power",
                                               "system",
                                               "phases",
                                               "phase",
                                               "neutral",
                                               "winding",
                                               "fixed",
                                               "own rcd",
                                               "reactance",
                                               "takes power back",
                                               "fault current",
                                               "waveform",
                                               "reverse power relay",
                                               "cool down",
                                               "unearthed on purpose",
                                               "insulation monitor",
                                               "first fault current",
                                               "rotation",
                                               "lines tied",
                                               "earth",
                                               "model",
                                               "excitation",
                                               "parallel"};
constexpr std::array<Words, 37> inverter_keys{"use",
                                              "name",
                                              "kind",
                                              "backup side",
                                              "power",
                                              "system",
                                              "phases",
                                              "phase",
                                              "surge",
                                              "pass through",
                                              "fault current",
                                              "grid",
                                              "neutral in island",
                                              "bond",
                                              "bond rest",
                                              "separation",
                                              "rcd type",
                                              "island rcd type",
                                              "leakage",
                                              "no dc fault current",
                                              "zero feed to generator",
                                              "frequency watt",
                                              "synchronises at",
                                              "waveform",
                                              "grid code",
                                              "pv",
                                              "battery",
                                              "unearthed on purpose",
                                              "insulation monitor",
                                              "first fault current",
                                              "protection",
                                              "ac coupled up to",
                                              "rotation",
                                              "lines tied",
                                              "earth",
                                              "model",
                                              "dc side"};
constexpr std::array<Words, 9> protection_keys{
    "certificate",       "undervoltage",     "overvoltage",    "underfrequency",   "overfrequency",
    "detects island in", "reconnects after", "external relay", "detects island by"};
constexpr std::array<Words, 3> closed_transition_keys{"synchronism check", "overlap",
                                                      "distributor consent"};
constexpr std::array<Words, 4> automatic_keys{"priority", "drops out", "picks up", "returns after"};
constexpr std::array<Words, 13> pv_keys{"use",
                                        "id",
                                        "name",
                                        "strings",
                                        "modules",
                                        "power",
                                        "open voltage",
                                        "short circuit current",
                                        "voltage factor",
                                        "module fuse",
                                        "coldest",
                                        "chain",
                                        "model"};
constexpr std::array<Words, 13> battery_keys{"use",
                                             "id",
                                             "name",
                                             "energy",
                                             "voltage",
                                             "discharge current",
                                             "charge current",
                                             "fault current",
                                             "chemistry",
                                             "usable",
                                             "chain",
                                             "model",
                                             "units"};
constexpr std::array<Words, 16> panel_keys{
    "id",     "name",  "interior", "grid",    "generator", "inverters", "inverter", "changeover",
    "bypass", "inlet", "earth",    "busbars", "devices",   "chains",    "links",    "ports"};
constexpr std::array<Words, 2> panel_inverter_keys{"in", "out"};
constexpr std::array<Words, 11> board_keys{"use",      "fire risk", "name",     "service",
                                           "busbar",   "material",  "feed",     "phase",
                                           "circuits", "earth",     "indicator"};
constexpr std::array<Words, 33> circuit_keys{
    "second earth",   "fire risk",     "heat pump",    "id",           "name",
    "device",         "cable",         "load",         "use",          "phase",
    "service",        "power factor",  "diversity",    "start factor", "drive",
    "rcd type",       "dc leakage",    "leakage",      "outdoors",     "dc detection",
    "pen detection",  "own electrode", "items",        "class two",    "priority",
    "shed in island", "dwelling",      "neutral from", "quantity",     "feeds",
    "type",           "charging",      "starts after"};
constexpr std::array<Words, 11> charging_keys{"points",        "each protected",  "managed by",
                                              "on loss",       "in island",       "gives back",
                                              "vehicle",       "reach",           "electrode clear",
                                              "touch voltage", "limits unbalance"};
constexpr std::array<Words, 6> heat_pump_keys{"heater",    "heater in island", "locked by",
                                              "lock rest", "phase monitor",    "local isolator"};
constexpr std::array<Words, 3> group_keys{"group", "circuits", "phase"};
constexpr std::array<Words, 12> assembly_keys{"name",    "fire risk", "kind",    "ready made",
                                              "service", "material",  "busbars", "devices",
                                              "chains",  "links",     "ports",   "earth"};
constexpr std::array<Words, 2> chain_keys{"chain", "phase"};
constexpr std::array<Words, 2> cable_keys{"id", "cable"};
constexpr std::array<Words, 2> interlock_keys{"never together", "by"};
constexpr std::array<Words, 7> signal_keys{"id",     "kind",          "protocol", "devices",
                                           "master", "terminated at", "on loss"};
constexpr std::array<Words, 2> state_keys{"kind", "running"};
constexpr std::array<Words, 2> synchronised_keys{"sources", "transfer together"};

}  // namespace

const Section root_section{"the file", root_keys};
const Section title_section{"'site'", title_keys};
const Section permit_section{"'permit'", permit_keys};
const Section installer_section{"'installer'", installer_keys};
const Section export_limit_section{"'export limit'", export_limit_keys};
const Section isolation_point_section{"'isolation point'", isolation_point_keys};
const Section emergency_section{"'emergency off'", emergency_keys};
const Section revision_section{"a revision", revision_keys};
const Section supply_section{"'supply'", supply_keys};
const Section fault_current_section{"'fault current'", fault_current_keys};
const Section earthing_section{"'earthing'", earthing_keys};
const Section electrode_section{"an electrode", electrode_keys};
const Section link_section{"a link", link_keys};
const Section generator_section{"a generator", generator_keys};
const Section inverter_section{"an inverter", inverter_keys};
const Section protection_section{"'protection'", protection_keys};
const Section closed_transition_section{"'closed transition'", closed_transition_keys};
const Section automatic_section{"'automatic'", automatic_keys};
const Section pv_section{"'pv'", pv_keys};
const Section battery_section{"'battery'", battery_keys};
const Section panel_section{"'panel'", panel_keys};
const Section panel_inverter_section{"an inverter of the panel", panel_inverter_keys};
const Section board_section{"a board", board_keys};
const Section circuit_section{"a circuit", circuit_keys};
const Section charging_section{"'charging'", charging_keys};
const Section heat_pump_section{"'heat pump'", heat_pump_keys};
const Section group_section{"a group", group_keys};
const Section assembly_section{"an assembly", assembly_keys};
const Section chain_section{"a chain", chain_keys};
const Section cable_section{"a cable", cable_keys};
const Section interlock_section{"an interlock", interlock_keys};
const Section signal_section{"a signal", signal_keys};
const Section state_section{"a state", state_keys};
const Section synchronised_section{"a synchronised set", synchronised_keys};

std::span<const Section* const> all_sections() {
  static constexpr std::array<const Section*, 35> sections{
      &root_section,           &title_section,
      &permit_section,         &installer_section,
      &export_limit_section,   &isolation_point_section,
      &emergency_section,      &revision_section,
      &supply_section,         &fault_current_section,
      &earthing_section,       &electrode_section,
      &link_section,           &generator_section,
      &inverter_section,       &pv_section,
      &battery_section,        &panel_section,
      &panel_inverter_section, &board_section,
      &circuit_section,        &charging_section,
      &group_section,          &assembly_section,
      &chain_section,          &cable_section,
      &interlock_section,      &signal_section,
      &state_section,          &device_section,
      &protection_section,     &closed_transition_section,
      &automatic_section,      &synchronised_section,
      &heat_pump_section};
  return sections;
}

}  // namespace linewright::input
