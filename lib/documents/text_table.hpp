// Tables in plain text, aligned by characters.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace linewright::documents {

/// Characters of a UTF-8 text: every byte that is not a continuation.
std::size_t characters(const std::string& text);

/// The words in lines of at most `width` characters; a longer word has a line of its own.
std::vector<std::string> broken(const std::string& text, std::size_t width);

/// The rows with their columns padded to one width, two spaces between, each line indented.
std::string text_table(const std::vector<std::vector<std::string>>& rows, std::size_t indent);

}  // namespace linewright::documents
