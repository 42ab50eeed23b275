/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Under the address sanitizer what was not taken may not be touched, and a gap stands behind each
 * piece, so that a step past its end is seen. */
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define HAS_GAPS
#endif
#elif defined(__SANITIZE_ADDRESS__)
#define HAS_GAPS
#endif
#ifdef HAS_GAPS
#include <sanitizer/asan_interface.h>
enum { GAP_BYTES = 16 };
#else
#define ASAN_POISON_MEMORY_REGION(bytes, n)   ((void)0)
#define ASAN_UNPOISON_MEMORY_REGION(bytes, n) ((void)0)
enum { GAP_BYTES = 0 };
#endif

enum { FIRST_BYTES = 4096, LARGEST_BYTES = 1024 * 1024 };

typedef struct chunk {
	struct chunk *next;
	size_t used, room;
	max_align_t bytes[];
} chunk;

struct rig_arena {
	chunk *chunks; /* the one that is being filled comes first */
	size_t next_bytes;
	bool failed;
};

rig_arena *rig_arena_new(void)
{
	rig_arena *arena = calloc(1, sizeof *arena);
	if (arena != NULL)
		arena->next_bytes = FIRST_BYTES;
	return arena;
}

void rig_arena_free(rig_arena *arena)
{
	if (arena == NULL)
		return;
	for (chunk *it = arena->chunks, *next; it != NULL; it = next) {
		next = it->next;
		free(it);
	}
	free(arena);
}

static chunk *new_chunk(size_t room)
{
	chunk *made = calloc(1, sizeof *made + room);
	if (made == NULL)
		return NULL;
	made->room = room;
	ASAN_POISON_MEMORY_REGION(made->bytes, room);
	return made;
}

/* A large piece gets a chunk of its own behind the first, which stays in use. */
static void *take_large(rig_arena *arena, size_t bytes)
{
	chunk *own = new_chunk(bytes);
	if (own == NULL)
		return NULL;
	own->used = bytes;
	if (arena->chunks == NULL) {
		arena->chunks = own;
	} else {
		own->next = arena->chunks->next;
		arena->chunks->next = own;
	}
	return own->bytes;
}

static void *take_bytes(rig_arena *arena, size_t bytes)
{
	if (bytes >= arena->next_bytes / 4)
		return take_large(arena, bytes);
	chunk *first = arena->chunks;
	if (first == NULL || first->room - first->used < bytes) {
		first = new_chunk(arena->next_bytes);
		if (first == NULL)
			return NULL;
		first->next = arena->chunks;
		arena->chunks = first;
		if (arena->next_bytes < LARGEST_BYTES)
			arena->next_bytes *= 2;
	}
	void *taken = (char *)first->bytes + first->used;
	first->used += bytes;
	return taken;
}

void *rig_arena_take(rig_arena *arena, size_t count, size_t size)
{
	const size_t step = _Alignof(max_align_t);
	void *taken = NULL;
	if (size == 0 || count <= (PTRDIFF_MAX - step - GAP_BYTES) / size) {
		const size_t bytes = count * size == 0 ? 1 : count * size;
		taken = take_bytes(arena, (bytes + step - 1) / step * step + GAP_BYTES);
		if (taken != NULL)
			ASAN_UNPOISON_MEMORY_REGION(taken, bytes);
	}
	if (taken == NULL)
		arena->failed = true;
	return taken;
}

bool rig_arena_failed(const rig_arena *arena)
{
	return arena->failed;
}

void rig_arena_fail(rig_arena *arena)
{
	arena->failed = true;
}

char *rig_arena_text(rig_arena *arena, const char *text)
{
	const size_t size = strlen(text) + 1;
	char *copy = rig_arena_take(arena, size, 1);
	if (copy != NULL)
		memcpy(copy, text, size);
	return copy;
}

char *rig_arena_format(rig_arena *arena, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	char *text = length < 0 ? NULL : rig_arena_take(arena, (size_t)length + 1, 1);
	if (text != NULL) {
		va_start(arguments, format);
		vsnprintf(text, (size_t)length + 1, format, arguments);
		va_end(arguments);
	}
	return text;
}
