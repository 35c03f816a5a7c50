// The user's own symbols and fonts, read from where the arguments say.
#pragma once

#include <string>
#include <vector>

#include "drawing/material.hpp"

namespace linewright::cli {

/// Reads the folder of symbols, if one is named, and the font files. What is wrong with any of
/// them, also that one cannot be read, is among the mistakes.
drawing::MaterialRead read_material(const std::string& symbols_folder,
                                    const std::vector<std::string>& fonts);

/// The same for a command: mistakes are printed to the error stream; says whether there were none.
bool read_material_for(const std::string& symbols_folder, const std::vector<std::string>& fonts,
                       drawing::Material& into);

}  // namespace linewright::cli
