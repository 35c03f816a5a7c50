#include <utility>

#include <fmt/core.h>

#include "input/circuits.hpp"
#include "input/fields.hpp"
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
  load.own_electrode = yes_no(fields.find("own electrode"), to);
  load.items = count(fields.find("items"), to);
  load.class_two = yes_no(fields.find("class two"), to);
  load.priority = choice(fields.find("priority"), priorities, to).value_or("");
  load.shed_in_island = yes_no(fields.find("shed in island"), to).value_or(false);
  load.dwelling = yes_no(fields.find("dwelling"), to).value_or(true);
  return load;
}

}  // namespace linewright::input
