# SPDX-License-Identifier: GPL-3.0-or-later
# Writes a text file as a C string constant: cmake -DFROM=... -DTO=... -DNAME=... -DHEADER=... -P embed.cmake
file(READ ${FROM} text)
string(REPLACE "\\" "\\\\" text "${text}")
string(REPLACE "\"" "\\\"" text "${text}")
string(REPLACE "\t" "" text "${text}")
string(REPLACE "\n" "\\n\"\n\t\"" text "${text}")
file(WRITE ${TO} "/* Made from a text file by embed.cmake. */\n#include \"${HEADER}\"\n\n"
	"const char ${NAME}[] =\n\t\"${text}\";\n")
