# SPDX-License-Identifier: GPL-3.0-or-later
# The Debian package, by `cpack` in a build that was configured with -DCMAKE_INSTALL_PREFIX=/usr, and the
# pages of the public headers, by the target `docs`.
set(DOC_DIR share/doc/rigbudget)
set(PACKAGING ${CMAKE_CURRENT_BINARY_DIR}/packaging)
file(STRINGS docs/CHANGELOG.md CHANGES)
set(RIG_MAINTAINER "rigbudget developers <developers@example.org>")
set(DEBIAN_CHANGES "")
set(DATED "")
foreach(line IN LISTS CHANGES)
	if(line MATCHES "^## ([0-9.]+) \\(([0-9-]+)\\)$")
		set(version ${CMAKE_MATCH_1})
		execute_process(COMMAND date -u -R -d ${CMAKE_MATCH_2} OUTPUT_VARIABLE stamp
			OUTPUT_STRIP_TRAILING_WHITESPACE)
		string(APPEND DEBIAN_CHANGES "${DATED}rigbudget (${version}) unstable; urgency=low\n\n")
		set(DATED "\n -- ${RIG_MAINTAINER}  ${stamp}\n\n")
	elseif(line MATCHES "^- (.*)$")
		string(APPEND DEBIAN_CHANGES "  * ${CMAKE_MATCH_1}\n")
	elseif(DATED AND line MATCHES "^  (.*)$")
		string(APPEND DEBIAN_CHANGES "    ${CMAKE_MATCH_1}\n")
	endif()
endforeach()
file(CONFIGURE OUTPUT ${PACKAGING}/changelog CONTENT "${DEBIAN_CHANGES}${DATED}" @ONLY)
execute_process(COMMAND gzip -9nkf ${PACKAGING}/changelog)
configure_file(docs/packaging/copyright ${PACKAGING}/copyright COPYONLY)
install(FILES ${PACKAGING}/changelog.gz ${PACKAGING}/copyright DESTINATION ${DOC_DIR}
	COMPONENT program)
install(DIRECTORY samples/ DESTINATION ${DOC_DIR}/examples COMPONENT program
	FILES_MATCHING PATTERN "*.rig.json")

execute_process(COMMAND date -u -d ${RIG_CHANGELOG_DATE} +%s OUTPUT_VARIABLE RIG_EPOCH
	OUTPUT_STRIP_TRAILING_WHITESPACE)
file(CONFIGURE OUTPUT ${PACKAGING}/epoch.cmake CONTENT "set(ENV{SOURCE_DATE_EPOCH} @RIG_EPOCH@)\n" @ONLY)
set(CPACK_PROJECT_CONFIG_FILE ${PACKAGING}/epoch.cmake)
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME rigbudget)
set(CPACK_PACKAGE_CONTACT ${RIG_MAINTAINER})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "electrical load budget for motorhomes and trailers")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "Adds up what a coach draws per circuit on 30 A and 50 A shore power,
simulates the shedding of loads, and runs its battery and solar panel through
hours and weather, to show whether a panel only maintains a battery or carries
loads. Finding sheets as text, HTML, PDF and JSON, with cautions.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_NAME rigbudget)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME rigbudget)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS_PRIVATE_DIRS ${PROJECT_BINARY_DIR}/src/pdf)
# files of our own: what CPack makes calls ldconfig, which has long been a trigger
file(WRITE ${PACKAGING}/triggers "activate-noawait ldconfig\n")
file(WRITE ${PACKAGING}/shlibs
	"librigbudget-pdf ${PROJECT_VERSION_MAJOR} rigbudget (>= ${PROJECT_VERSION})\n")
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA ${PACKAGING}/triggers ${PACKAGING}/shlibs)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION TRUE)
set(CPACK_STRIP_FILES ON)
set(CPACK_POST_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/docs/packaging/repack.cmake)
include(CPack)

find_program(DOXYGEN doxygen)
if(DOXYGEN)
	configure_file(docs/packaging/Doxyfile.in ${PACKAGING}/Doxyfile @ONLY)
	add_custom_target(docs COMMAND ${DOXYGEN} ${PACKAGING}/Doxyfile VERBATIM)
endif()
