# Installs from `build` into a folder of its own, builds the consumer against that and runs it on
# `site`.
set(stage ${build}/stage)
set(consumer ${build}/consumer)
file(REMOVE_RECURSE ${stage} ${consumer})
file(MAKE_DIRECTORY ${stage})

function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE result OUTPUT_VARIABLE output
                  ERROR_VARIABLE output)
  if(NOT result EQUAL 0)
    message(FATAL_ERROR "failed (${result}): ${ARGN}\n${output}")
  endif()
endfunction()

run(${CMAKE_COMMAND} --install ${build} --prefix ${stage})
run(${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR} -B ${consumer} -G Ninja
    -D CMAKE_PREFIX_PATH=${stage} -D CMAKE_CXX_COMPILER=${compiler} -D CMAKE_BUILD_TYPE=Debug)
run(${CMAKE_COMMAND} --build ${consumer})
run(${consumer}/consumer ${site})
