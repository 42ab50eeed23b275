# SPDX-License-Identifier: GPL-3.0-or-later
# The target `page`: the core as WebAssembly, packed with src/page into rigbudget.html. Not in `all`.
# Its compiler is clang-14 with wasi-libc; .ci/wasm-libs makes the libraries it is linked with.
find_program(WASM_CLANG clang-14)
find_file(WASM_HEADERS stdio.h PATHS /usr/include/wasm32-wasi NO_DEFAULT_PATH)
if(NOT WASM_CLANG OR NOT WASM_HEADERS)
	add_custom_target(page
		COMMAND ${CMAKE_COMMAND} -E echo
			"The page wants these Debian packages: clang-14 lld-14 llvm-14 wasi-libc"
			"libclang-rt-14-dev-wasm32 dpkg-dev. Install them, and run cmake again."
		COMMAND ${CMAKE_COMMAND} -E false VERBATIM)
	return()
endif()

set(WASM_DIR ${CMAKE_CURRENT_BINARY_DIR}/wasm)
set(WASM_LIBS ${WASM_DIR}/libs) # a file that names the folder
set(WASM_FLAGS --target=wasm32-wasi -std=c17 -nostdlibinc -isystem /usr/include/wasm32-wasi -w -DNDEBUG
	-ffp-contract=off -ffunction-sections -fdata-sections -ftls-model=local-exec -ffile-prefix-map=${PROJECT_SOURCE_DIR}=.
	-D_POSIX_C_SOURCE=200809L -D__STDC_NO_THREADS__=1 -DRIG_VERSION="${PROJECT_VERSION}"
	-I${PROJECT_SOURCE_DIR}/include -I${PROJECT_SOURCE_DIR}/src -I${PROJECT_SOURCE_DIR}/src/report
	-I${WASM_DIR}/include)
# A small stack would be overrun in silence; this one traps.
set(WASM_LINK -mexec-model=reactor
	-Wl,--gc-sections,--strip-all,-z,stack-size=1048576,--stack-first,--max-memory=268435456)
add_custom_command(OUTPUT ${WASM_LIBS}
	COMMAND bash -c "set -e; libs=$(${PROJECT_SOURCE_DIR}/.ci/wasm-libs); mkdir -p ${WASM_DIR}; rm -rf ${WASM_DIR}/include; cp -r $libs/include $libs/libdeps.a ${WASM_DIR}; echo $libs >${WASM_LIBS}"
	DEPENDS ${PROJECT_SOURCE_DIR}/.ci/wasm-libs VERBATIM
	COMMENT "Libraries for WebAssembly")

# All sources of the library and of this room, but the door to files: a page has none.
set(WASM_SOURCES "")
foreach(room ${LIBRARY_ROOMS} page)
	get_target_property(dir rig_${room} SOURCE_DIR)
	get_target_property(sources rig_${room} SOURCES)
	foreach(source ${sources})
		cmake_path(ABSOLUTE_PATH source BASE_DIRECTORY ${dir})
		list(APPEND WASM_SOURCES ${source})
	endforeach()
endforeach()
list(REMOVE_ITEM WASM_SOURCES ${PROJECT_SOURCE_DIR}/src/base/file.c
	${PROJECT_SOURCE_DIR}/src/base/unnamed.c)

# The kernels as natively, but their choices stay comparisons: with these two a compiler makes minimum
# instructions of them that care for signed zeros and NaN, which cost a page a fifth of its time.
set(KERNEL_FLAGS -O3 -fno-trapping-math -fno-math-errno)

# page_module(name FLAGS...): ${WASM_DIR}/name.wasm
function(page_module name)
	set(objects "")
	foreach(source ${WASM_SOURCES})
		get_filename_component(noun ${source} NAME_WE)
		set(object ${WASM_DIR}/${name}/${noun}.o)
		set(flags "")
		if(noun MATCHES "^(kernel|lasting)$")
			set(flags ${KERNEL_FLAGS})
		endif()
		add_custom_command(OUTPUT ${object}
			COMMAND ${WASM_CLANG} ${WASM_FLAGS} ${ARGN} ${flags} -MD -MF ${object}.d -MT ${object}
				-c ${source} -o ${object}
			DEPENDS ${source} ${WASM_LIBS} DEPFILE ${object}.d VERBATIM COMMENT "")
		list(APPEND objects ${object})
	endforeach()
	file(MAKE_DIRECTORY ${WASM_DIR}/${name})
	add_custom_command(OUTPUT ${WASM_DIR}/${name}.wasm
		COMMAND ${WASM_CLANG} --target=wasm32-wasi ${objects} ${WASM_DIR}/libdeps.a -lm ${WASM_LINK}
			-o ${WASM_DIR}/${name}.wasm
		DEPENDS ${objects} ${WASM_LIBS} VERBATIM COMMENT "WebAssembly: ${name}")
endfunction()
# The module for browsers with vector instructions, and one for those before.
page_module(core -O2 -msimd128 -mnontrapping-fptoint -mbulk-memory -msign-ext)
page_module(plain -O2)

file(STRINGS scripts.txt PAGE_SCRIPTS REGEX "^[a-z]")
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS scripts.txt)
set(PAGE_FILES page.html page.css scripts.txt ${PAGE_SCRIPTS})
list(TRANSFORM PAGE_FILES PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/)
set(PAGE ${PROJECT_BINARY_DIR}/rigbudget.html)
add_custom_command(OUTPUT ${PAGE}
	COMMAND ${CMAKE_CURRENT_SOURCE_DIR}/pack ${WASM_DIR}/core.wasm ${WASM_DIR}/plain.wasm ${PAGE}
	DEPENDS pack ${WASM_DIR}/core.wasm ${WASM_DIR}/plain.wasm ${PAGE_FILES} ${PROJECT_SOURCE_DIR}/src/report/sheet.css
	VERBATIM COMMENT "The page: ${PAGE}")
add_custom_target(page DEPENDS ${PAGE})
foreach(room ${LIBRARY_ROOMS} page) # for the sources that their builds make
	add_dependencies(page rig_${room})
endforeach()
