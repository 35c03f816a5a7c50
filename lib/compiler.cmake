# Launcher, linker, warnings and instrumentation, the same for every target of the project.

find_program(CCACHE_PROGRAM ccache)
if(CCACHE_PROGRAM AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  # The sloppiness settings are what ccache asks for when headers are precompiled; the base folder
  # lets two checkouts share their results.
  set(launcher env CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime
               CCACHE_NOHASHDIR=1 CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} ${CCACHE_PROGRAM})
  set(CMAKE_C_COMPILER_LAUNCHER ${launcher})
  set(CMAKE_CXX_COMPILER_LAUNCHER ${launcher})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    add_compile_options($<$<COMPILE_LANGUAGE:CXX>:-fpch-preprocess>)
  endif()
endif()

find_program(MOLD_PROGRAM mold)
if(MOLD_PROGRAM)
  add_link_options(-fuse-ld=mold)
endif()

# Linked to privately by every target of ours, so that a consumer's own flags stay its own.
# g++ 12 sees overlaps and overruns in std::string's own operator+.
# Missing field initializers are no fault here: designated ones name what differs from the default.
add_library(linewright_warnings INTERFACE)
target_compile_options(linewright_warnings INTERFACE
  $<$<COMPILE_LANGUAGE:CXX>:-Werror -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion
    -Wdouble-promotion -Wold-style-cast -Wcast-qual -Wnon-virtual-dtor -Woverloaded-virtual
    -Wextra-semi -Wformat=2 -Wno-missing-field-initializers>
  $<$<COMPILE_LANG_AND_ID:CXX,GNU>:-Wduplicated-cond -Wduplicated-branches -Wlogical-op
    -Wuseless-cast -Wno-restrict -Wno-array-bounds
    -Wno-stringop-overflow -Wno-stringop-overread>)

if(LINEWRIGHT_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=all
                      -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
if(LINEWRIGHT_FUZZ)
  if(NOT CMAKE_CXX_COMPILER_ID STREQUAL "Clang")
    message(FATAL_ERROR "the fuzz targets need clang: cmake --preset fuzz")
  endif()
  add_compile_options(-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all)
  add_link_options(-fsanitize=address,undefined)
endif()
if(LINEWRIGHT_COVERAGE)
  add_compile_options(--coverage)
  add_link_options(--coverage)
endif()
