# What `cmake --install` and `cpack` put where: the program, its rooms, a manual page and completion for
# bash, both printed by the program itself from the words of --help.
if(NOT TARGET boxroom)
  return()
endif()
include(GNUInstallDirs)
set(described ${CMAKE_BINARY_DIR}/described)
add_custom_command(TARGET boxroom POST_BUILD
  COMMAND ${CMAKE_COMMAND} -E make_directory ${described}
  COMMAND boxroom --manual-page > ${described}/boxroom.1
  COMMAND boxroom --bash-completion > ${described}/boxroom
  VERBATIM)
set(parts ${CMAKE_INSTALL_LIBDIR}/boxroom)
file(RELATIVE_PATH parts_from_program /${CMAKE_INSTALL_BINDIR} /${parts})
set_target_properties(boxroom PROPERTIES INSTALL_RPATH "$ORIGIN/${parts_from_program}")
target_compile_definitions(boxroom_commands PRIVATE BOXROOM_PARTS="${parts_from_program}")
if(BOXROOM_ENGINE)
  install(FILES ${packed_engine} DESTINATION ${parts} OPTIONAL)
endif()
install(TARGETS boxroom RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(TARGETS boxroom_drawing LIBRARY DESTINATION ${parts})
install(FILES ${described}/boxroom.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${described}/boxroom DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
file(GLOB room_files CONFIGURE_DEPENDS rooms/*.toml)
install(FILES ${room_files} DESTINATION ${CMAKE_INSTALL_DATADIR}/boxroom/rooms)
install(FILES LICENSE README.md DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/boxroom)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME boxroom)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "boxroom <boxroom@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "which closed box, standing where, for these seats in this room")
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # what the program is linked to, found by dpkg-shlibdeps
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
if(BOXROOM_NATIVE)
  set(CPACK_PACKAGE_DESCRIPTION "Built for the very processor of the machine it was built on: for others configure with -DBOXROOM_NATIVE=OFF.")
endif()
set(CPACK_OUTPUT_FILE_PREFIX ${CMAKE_BINARY_DIR}/package)
include(CPack)
