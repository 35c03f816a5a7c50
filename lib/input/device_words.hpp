// The words of a device line.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "input/device_line.hpp"

namespace linewright::input {

/// Reads the words of one line; none after reporting what cannot be read.
std::optional<DeviceLine> read_device_words(const Node& line, Mistakes& mistakes,
                                            std::optional<site::DeviceKind> assumed);

/// Reads "63 A gG" as the supply's own fuse.
std::optional<site::Device> read_fuse(const Node& line, Mistakes& mistakes);

/// True for "B16", "C20", "D32": a curve with a rating.
bool is_curve(std::string_view word);

/// The words that name a device or say something about it, for hints and for the schema's test.
std::span<const std::string_view> device_vocabulary();

}  // namespace linewright::input
