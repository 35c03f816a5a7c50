#include <utility>

#include <fmt/core.h>

#include "input/circuits.hpp"
#include "input/fields.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

using site::Use;

constexpr Choice<site::Service> services[] = {{"backup", site::Service::backup},
                                              {"normal", site::Service::normal},
                                              {"direct", site::Service::direct}};
constexpr Choice<Use> uses[] = {
    {"sockets", Use::sockets},     {"lighting", Use::lighting},  {"fixed", Use::fixed},
    {"outdoors", Use::outdoors},   {"bathroom", Use::bathroom},  {"EV", Use::ev},
    {"heat pump", Use::heat_pump}, {"cooking", Use::cooking},    {"motor", Use::motor},
    {"network", Use::network},     {"separated", Use::separated}};
constexpr Choice<site::ResidualType> rcd_types[] = {{"AC", site::ResidualType::ac},
                                                    {"A", site::ResidualType::a},
                                                    {"F", site::ResidualType::f},
                                                    {"B", site::ResidualType::b}};
constexpr Choice<site::PenDetection> pen_detections[] = {
    {"none", site::PenDetection::none},
    {"opens live", site::PenDetection::opens_live},
    {"opens live and earth", site::PenDetection::opens_live_and_earth}};
constexpr Choice<site::LossOfMeter> losses[] = {{"off", site::LossOfMeter::off},
                                                {"minimum", site::LossOfMeter::minimum},
                                                {"goes on", site::LossOfMeter::goes_on}};
constexpr Choice<site::IslandCharging> island_chargings[] = {
    {"off", site::IslandCharging::off},
    {"held back", site::IslandCharging::held_back},
    {"goes on", site::IslandCharging::goes_on}};
constexpr Choice<site::GivesBack> gives_backs[] = {{"no", site::GivesBack::no},
                                                   {"home", site::GivesBack::home},
                                                   {"grid", site::GivesBack::grid},
                                                   {"socket", site::GivesBack::socket}};
constexpr Choice<bool> heaters[] = {{"none", true}};
constexpr Choice<bool> heater_islands[] = {{"blocked", false}, {"runs", true}};
constexpr Choice<bool> lock_rests[] = {{"blocked", true}, {"free", false}};
constexpr Choice<const char*> priorities[] = {
    {"must", "must"}, {"should", "should"}, {"may", "may"}};

std::optional<double> at_least_one(const Node* node, Mistakes& to) {
  const std::optional<double> value = number(node, to);
  if (!value || (*value >= 1.0 && *value <= 20.0)) return value;
  to.add(node->where, fmt::format("start factor {} is outside 1 to 20", node->text),
         "expected starting over running current, such as '6'");
  return std::nullopt;
}

std::optional<double> power_factor(const Node* node, Mistakes& to) {
  const std::optional<double> value = number(node, to);
  if (!value || (*value > 0.0 && *value <= 1.0)) return value;
  to.add(node->where, fmt::format("power factor {} is outside 0 to 1", node->text),
         "expected a power factor such as '0.95'");
  return std::nullopt;
}

bool begins_with_digit(const Node& node) {
  return node.is_scalar() && !node.text.empty() && node.text.front() >= '0' &&
         node.text.front() <= '9';
}

// "off", "held back", "goes on", or the power that it is held back to.
void read_island_charging(const Node* node, site::ChargePoint& point, Mistakes& to) {
  if (node == nullptr) return;
  if (!begins_with_digit(*node)) {
    point.in_island = choice(node, island_chargings, to);
    return;
  }
  point.island_limit = quantity<ActivePower>(node, to);
  if (point.island_limit) point.in_island = site::IslandCharging::held_back;
}

site::ChargePoint read_charging(const Node& node, Mistakes& to) {
  const Fields fields(node, charging_section, to);
  site::ChargePoint point;
  point.points = count(fields.find("points"), to);
  point.each_protected = yes_no(fields.find("each protected"), to);
  if (const std::optional<std::string> meter = value_text(fields.find("managed by"), to)) {
    point.managed = *meter != "no";
    if (*point.managed) point.meter = *meter;
  }
  point.on_loss = choice(fields.find("on loss"), losses, to);
  read_island_charging(fields.find("in island"), point, to);
  point.gives_back = choice(fields.find("gives back"), gives_backs, to);
  point.vehicle = text(fields.find("vehicle"), to);
  point.reach = quantity<Length>(fields.find("reach"), to);
  point.electrode_clear = yes_no(fields.find("electrode clear"), to);
  point.touch_voltage = quantity<Voltage>(fields.find("touch voltage"), to);
  point.limits_unbalance = yes_no(fields.find("limits unbalance"), to);
  return point;
}

// What opens the lock input of a heat pump, or "no".
void read_lock(const Node* node, site::HeatPump& pump, Mistakes& to) {
  const std::optional<std::string> by = value_text(node, to);
  if (!by) return;
  pump.locked_in_island = *by != "no";
  if (*pump.locked_in_island) pump.locked_by = *by;
}

site::HeatPump read_heat_pump(const Node& node, Mistakes& to) {
  const Fields fields(node, heat_pump_section, to);
  site::HeatPump pump;
  const Node* heater = fields.find("heater");
  if (heater != nullptr && !begins_with_digit(*heater)) {
    if (choice(heater, heaters, to)) pump.heater = ActivePower{};
  } else {
    pump.heater = quantity<ActivePower>(heater, to);
  }
  pump.heater_in_island = choice(fields.find("heater in island"), heater_islands, to);
  read_lock(fields.find("locked by"), pump, to);
  pump.lock_rests_blocked = choice(fields.find("lock rest"), lock_rests, to);
  pump.phase_monitor = yes_no(fields.find("phase monitor"), to);
  pump.local_isolator = yes_no(fields.find("local isolator"), to);
  return pump;
}

// "yes", "no", or its resistance.
std::optional<bool> has_electrode(const Node* node, Mistakes& to) {
  if (node == nullptr || !begins_with_digit(*node)) return yes_no(node, to);
  return quantity<Resistance>(node, to).has_value();
}

}  // namespace

std::optional<site::Service> read_service(const Node* node, Mistakes& mistakes) {
  return choice(node, services, mistakes);
}

site::LoadGroup read_load(const Fields& fields, Mistakes& to) {
  site::LoadGroup load;
  load.service = read_service(fields.find("service"), to);
  load.use = choice(fields.find("use"), uses, to).value_or(Use::unknown);
  load.power = quantity<ActivePower>(fields.find("load"), to);
  load.power_factor = power_factor(fields.find("power factor"), to);
  load.diversity = share(fields.find("diversity"), to);
  load.start_factor = at_least_one(fields.find("start factor"), to);
  load.drive = yes_no(fields.find("drive"), to);
  load.declared_rcd_type = choice(fields.find("rcd type"), rcd_types, to);
  load.dc_leakage = quantity<Current>(fields.find("dc leakage"), to);
  load.leakage = quantity<Current>(fields.find("leakage"), to);
  load.outdoors = yes_no(fields.find("outdoors"), to);
  load.dc_detection_6ma = yes_no(fields.find("dc detection"), to);
  load.pen_detection = choice(fields.find("pen detection"), pen_detections, to);
  load.own_electrode = has_electrode(fields.find("own electrode"), to);
  load.items = count(fields.find("items"), to);
  load.class_two = yes_no(fields.find("class two"), to);
  load.priority = choice(fields.find("priority"), priorities, to).value_or("");
  load.shed_in_island = yes_no(fields.find("shed in island"), to).value_or(false);
  load.starts_after = quantity<Time>(fields.find("starts after"), to);
  load.dwelling = yes_no(fields.find("dwelling"), to).value_or(true);
  load.second_earth = yes_no(fields.find("second earth"), to);
  load.fire_risk = yes_no(fields.find("fire risk"), to);
  if (const Node* charging = fields.find("charging")) {
    if (load.use != Use::ev)
      to.add(charging->where, "'charging' on a circuit that charges no vehicle",
             "write 'use: EV' or delete this key");
    load.charging = read_charging(*charging, to);
  }
  if (const Node* pump = fields.find("heat pump")) {
    if (load.use != Use::heat_pump)
      to.add(pump->where, "'heat pump' on a circuit that feeds none",
             "write 'use: heat pump' or delete this key");
    load.heat_pump = read_heat_pump(*pump, to);
  }
  return load;
}

}  // namespace linewright::input
