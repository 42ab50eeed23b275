# SPDX-License-Identifier: GPL-3.0-or-later
# Run by cpack once a package is made: packs it anew, so that the umask, the clock and the compressor's
# threads of whoever builds it leave no trace. What CPack itself writes has the modes that the umask
# left, and scripts that call ldconfig where a trigger does.
foreach(package IN LISTS CPACK_PACKAGE_FILES)
	set(root ${CPACK_TEMPORARY_DIRECTORY}/anew)
	file(REMOVE_RECURSE ${root})
	execute_process(COMMAND dpkg-deb --raw-extract ${package} ${root} COMMAND_ERROR_IS_FATAL ANY)
	file(REMOVE ${root}/DEBIAN/postinst ${root}/DEBIAN/postrm)
	execute_process(COMMAND chmod -R u=rwX,go=rX ${root} COMMAND_ERROR_IS_FATAL ANY)
	execute_process(COMMAND find ${root} -exec touch -h -d @$ENV{SOURCE_DATE_EPOCH} {} +
		COMMAND_ERROR_IS_FATAL ANY)
	execute_process(COMMAND dpkg-deb --root-owner-group -Zxz --threads-max=1 --build ${root} ${package}
		OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
	file(REMOVE_RECURSE ${root})
endforeach()
