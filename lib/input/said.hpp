// What the words of a device line say, before it is known what kind of thing they describe.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "input/mistakes.hpp"
#include "input/node.hpp"
#include "site/site.hpp"

namespace linewright::input {

/// What the kind word of a line says it is.
enum class Thing { device, meter, inlet, socket_outlet, spd, transformer, pen_split };

/// A kind word and what it stands for.
struct KindWord {
  std::string_view word;
  Thing thing;
  site::DeviceKind kind = site::DeviceKind::switch_disconnector;
};

/// Everything that the words of one line say.
struct Said {
  std::optional<KindWord> kind;
  site::Device device;
  site::Residual residual;
  bool has_residual = false;
  std::optional<site::FeedDirection> direction;
  std::optional<std::string> rest;
  std::optional<ApparentPower> power;
  std::optional<Voltage> voltage;
  std::string surge_type;
};

/// The thing that a line describes; none after reporting that it does not say which. Reports what
/// means nothing to a thing of that kind.
std::optional<site::Facts> facts_of(const Said& said, const Node& line, Mistakes& mistakes,
                                    std::optional<site::DeviceKind> assumed);

}  // namespace linewright::input
