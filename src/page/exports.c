/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the module shows to the page. */
#include <stdlib.h>

#include "page/bridge.h"

#ifdef __wasm__
#define EXPORT(name) __attribute__((export_name(#name), used))
__attribute__((import_module("rig"), import_name("progress"))) int rig_tell_progress(double done);

static bool tell(void *context, double done_frac)
{
	(void)context;
	return rig_tell_progress(done_frac) != 0;
}
#else
#define EXPORT(name)
static const page_progress tell = NULL;
#endif

EXPORT(rig_page_alloc) char *rig_page_alloc(size_t n)
{
	return malloc(n > 0 ? n : 1);
}

EXPORT(rig_page_release) void rig_page_release(char *room)
{
	free(room);
}

EXPORT(rig_page_call) char *rig_page_call(const char *request, size_t n)
{
	return page_respond(request, n, tell);
}
