# linewright_embed(TARGET FOLDER FILE…) builds data files into the library TARGET.
#
# They are read in C++ through the generated header "FOLDER/embedded.hpp":
#   linewright::FOLDER::embedded_file("profiles/gb.csv")   the bytes; empty if there is no such file
#   linewright::FOLDER::embedded_files()                   all of them, sorted by name
# A file goes by its own name and that of the folder it lies in. The assembler copies the bytes, so
# that even a large font costs no compile time.
function(linewright_embed target folder)
  set(out ${CMAKE_CURRENT_BINARY_DIR}/embedded/${folder})
  set(files ${ARGN})
  list(SORT files)
  set(assembly "    .section .rodata\n")
  set(declarations "")
  set(entries "")
  set(index 0)
  foreach(file IN LISTS files)
    cmake_path(ABSOLUTE_PATH file BASE_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} NORMALIZE)
    cmake_path(GET file FILENAME base)
    cmake_path(GET file PARENT_PATH parent)
    cmake_path(GET parent FILENAME parent)
    set(symbol linewright_${folder}_data_${index})
    string(APPEND assembly
      "    .global ${symbol}\n    .global ${symbol}_end\n    .balign 16\n"
      "${symbol}:\n    .incbin \"${file}\"\n${symbol}_end:\n    .byte 0\n")
    string(APPEND declarations
      "extern \"C\" const char ${symbol}[];\nextern \"C\" const char ${symbol}_end[];\n")
    string(APPEND entries "      {\"${parent}/${base}\", bytes(${symbol}, ${symbol}_end)},\n")
    list(APPEND inputs ${file})
    math(EXPR index "${index} + 1")
  endforeach()
  string(APPEND assembly "    .section .note.GNU-stack,\"\",@progbits\n")

  file(CONFIGURE OUTPUT ${out}/embedded_data.s CONTENT "${assembly}" @ONLY)
  file(CONFIGURE OUTPUT ${out}/${folder}/embedded.hpp @ONLY CONTENT
"// Data files that are built into the library. Generated; see lib/embed.cmake.
#pragma once

#include <span>
#include <string_view>

namespace linewright::${folder} {

/// One data file: its folder and name, and its bytes.
struct EmbeddedFile {
  std::string_view name;
  std::string_view content;
};

/// All data files of this library, sorted by name.
std::span<const EmbeddedFile> embedded_files();

/// The bytes of one data file; empty if there is none of that name.
std::string_view embedded_file(std::string_view name);

}  // namespace linewright::${folder}
")
  file(CONFIGURE OUTPUT ${out}/embedded.cpp @ONLY CONTENT
"#include \"${folder}/embedded.hpp\"

#include <array>
#include <cstddef>

${declarations}
namespace linewright::${folder} {
namespace {

[[maybe_unused]] std::string_view bytes(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::span<const EmbeddedFile> embedded_files() {
  static const std::array<EmbeddedFile, ${index}> files{{
${entries}  }};
  return files;
}

std::string_view embedded_file(std::string_view name) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.name == name) return file.content;
  }
  return {};
}

}  // namespace linewright::${folder}
")
  set_source_files_properties(${out}/embedded_data.s PROPERTIES OBJECT_DEPENDS "${inputs}")
  if(CMAKE_ASM_COMPILER_ID STREQUAL "Clang")
    # It warns of every flag that is meant for C++ only.
    set_source_files_properties(${out}/embedded_data.s PROPERTIES
                                COMPILE_OPTIONS -Qunused-arguments)
  endif()
  target_sources(${target} PRIVATE ${out}/embedded.cpp ${out}/embedded_data.s)
  target_include_directories(${target} PUBLIC $<BUILD_INTERFACE:${out}>)
endfunction()
