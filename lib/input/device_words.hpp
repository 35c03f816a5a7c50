// The words of a device line.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "input/device_line.hpp"
#include "input/words.hpp"

namespace linewright::input {

/// Reads the words of one line; none after reporting what cannot be read.
std::optional<DeviceLine> read_device_words(const Node& line, Mistakes& mistakes,
                                            std::optional<site::DeviceKind> assumed);

/// What some words of a device line are about; words about the same thing exclude each other.
enum class Aspect {
  kind,
  dc_detection,
  residual_current,
  residual_type,
  delay,
  direction,
  rest,
  poles,
  throws,
  breaking_capacity,
  neutral_timing,
  operation,
  rating,
  curve,
  other,
};

/// Words that say one thing: "type A", "30 mA", "4P".
struct SaidPhrase {
  Aspect about = Aspect::other;
  Word first;
  Word last;
};

/// What a line says, phrase by phrase, without its designation.
std::vector<SaidPhrase> phrases_of(const Node& line);

/// Reads "63 A gG" as the supply's own fuse.
std::optional<site::Device> read_fuse(const Node& line, Mistakes& mistakes);

/// True for "B16", "C20", "D32": a curve with a rating.
bool is_curve(std::string_view word);

/// The words that name a device or say something about it, for hints and for the schema's test.
std::span<const std::string_view> device_vocabulary();

}  // namespace linewright::input
