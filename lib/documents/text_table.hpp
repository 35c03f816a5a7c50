// Tables in plain text, aligned by characters.
#pragma once

#include <string>
#include <vector>

namespace linewright::documents {

/// The rows with their columns padded to one width, two spaces between, each line indented.
std::string text_table(const std::vector<std::vector<std::string>>& rows, std::size_t indent);

}  // namespace linewright::documents
