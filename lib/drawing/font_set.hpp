// The fonts that lettering may be set in: those built in, and behind them those of the user.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "diagram/sheet.hpp"
#include "drawing/face.hpp"
#include "units/result.hpp"

namespace linewright::drawing {

/// A font file of the user.
struct FontFile {
  std::string path;  ///< for messages
  std::string bytes;
};

/// How large a font file may be, and how many there may be.
constexpr std::size_t largest_font = 64UL * 1024 * 1024;
constexpr std::size_t most_fonts = 8;

struct GivenFonts;

/// The built-in fonts and those of the user. Copies share what they hold; nothing in it changes.
class FontSet {
 public:
  /// The built-in fonts alone.
  FontSet() = default;

  /// The fonts of the user behind the built-in ones, in their order. Fails, naming the file, on
  /// what is no TrueType or OpenType font, has no outlines or characters, or may not be embedded.
  static Result<FontSet> create(std::vector<FontFile> files);

  /// How many faces there are, the built-in ones first.
  int count() const;

  /// The faces in which a character is looked for, the first that has it wins: lettering, signs,
  /// then the user's; for bold lettering their bold ones first.
  const std::vector<Face>& order(diagram::Weight weight) const;

  /// What only the sources of this folder look into; null: built-in fonts alone.
  const GivenFonts* given() const { return given_.get(); }

 private:
  std::shared_ptr<const GivenFonts> given_;
};

}  // namespace linewright::drawing
