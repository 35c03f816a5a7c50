# What `cmake --install` puts where, and the package that lets other projects find it.
include(CMakePackageConfigHelpers)

get_property(libraries GLOBAL PROPERTY LINEWRIGHT_LIBRARIES)
install(TARGETS linewright ${libraries} EXPORT linewright
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
install(DIRECTORY lib/ DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/linewright
        FILES_MATCHING PATTERN "*.hpp" PATTERN "tool" EXCLUDE PATTERN "fonts" EXCLUDE)
install(FILES rules/registry.hpp DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/linewright/rules)

set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/linewright)
install(EXPORT linewright NAMESPACE linewright:: FILE linewrightTargets.cmake
        DESTINATION ${package_folder})
configure_package_config_file(lib/linewrightConfig.cmake.in
  ${PROJECT_BINARY_DIR}/linewrightConfig.cmake INSTALL_DESTINATION ${package_folder})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/linewrightConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/linewrightConfig.cmake
              ${PROJECT_BINARY_DIR}/linewrightConfigVersion.cmake
        DESTINATION ${package_folder})
