# SPDX-License-Identifier: GPL-3.0-or-later
# Writes docs/sources.md as a C string constant: cmake -DFROM=... -DTO=... -P sources.cmake
file(READ ${FROM} text)
string(REPLACE "\\" "\\\\" text "${text}")
string(REPLACE "\"" "\\\"" text "${text}")
string(REPLACE "\n" "\\n\"\n\t\"" text "${text}")
file(WRITE ${TO} "/* Made from docs/sources.md by sources.cmake. */\n#include \"page/coaches.h\"\n\n"
	"const char page_sources[] =\n\t\"${text}\";\n")
