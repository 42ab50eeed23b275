# SPDX-License-Identifier: GPL-3.0-or-later
# Writes the demo coaches as C: cmake -DFROM="a.rig.json;..." -DTO=... -P coaches.cmake
set(rows "")
foreach(path ${FROM})
	get_filename_component(name ${path} NAME)
	string(REPLACE ".rig.json" "" name ${name})
	file(READ ${path} text)
	string(REPLACE "\\" "\\\\" text "${text}")
	string(REPLACE "\"" "\\\"" text "${text}")
	string(REPLACE "\t" "\\t" text "${text}")
	string(REPLACE "\n" "\\n\"\n\t\"" text "${text}")
	string(APPEND rows "\t{\"${name}\",\n\t\"${text}\"},\n")
endforeach()
file(WRITE ${TO} "/* Made from samples/ by coaches.cmake. */\n#include \"page/coaches.h\"\n\n"
	"const page_coach PAGE_COACHES[PAGE_N_COACHES] = {\n${rows}};\n")
