# Turns symbols/*.svg into C++ lists at build time, with a tool made of the same reader that the
# library uses at run time.
file(GLOB symbol_files CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/symbols/*.svg)
list(SORT symbol_files)

add_executable(linewright_symbol_compiler
  drawing/tool/symbol_compiler.cpp drawing/symbol_file.cpp drawing/symbol_rows.cpp
  drawing/path_data.cpp drawing/path.cpp units/ensure.cpp)
target_include_directories(linewright_symbol_compiler PRIVATE ${PROJECT_SOURCE_DIR}/lib)
target_link_libraries(linewright_symbol_compiler
  PRIVATE tl::expected fmt::fmt pugixml::pugixml linewright_warnings)
if(LINEWRIGHT_FUZZ)
  target_link_options(linewright_symbol_compiler PRIVATE -fsanitize=address,undefined)
endif()

set(symbol_source ${CMAKE_CURRENT_BINARY_DIR}/drawing/built_in_symbols.cpp)
file(MAKE_DIRECTORY ${CMAKE_CURRENT_BINARY_DIR}/drawing)
add_custom_command(
  OUTPUT ${symbol_source}
  COMMAND linewright_symbol_compiler ${symbol_source} ${symbol_files}
  DEPENDS linewright_symbol_compiler ${symbol_files}
  COMMENT "Building the symbols in" VERBATIM)
target_sources(linewright_drawing PRIVATE ${symbol_source})
