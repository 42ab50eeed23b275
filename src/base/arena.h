/* SPDX-License-Identifier: GPL-3.0-or-later */
/* arena.h: memory that dies with the question. Everything taken from an arena is freed at once. */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stdbool.h>
#include <stddef.h>

typedef struct rig_arena rig_arena;

rig_arena *rig_arena_new(void); /* NULL when memory is out */
void rig_arena_free(rig_arena *arena);

/* count * size zeroed bytes, aligned for any type; NULL when memory is out or the product
 * overflows. A request of nothing gives a valid pointer. */
void *rig_arena_take(rig_arena *arena, size_t count, size_t size);

/* A copy of the text; NULL when memory is out. */
char *rig_arena_text(rig_arena *arena, const char *text);
char *rig_arena_format(rig_arena *arena, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* Whether anything taken from it was not to be had; whoever makes words of many pieces asks once,
 * at the end. rig_arena_fail says so of a piece that was meant for it and is lost. */
bool rig_arena_failed(const rig_arena *arena);
void rig_arena_fail(rig_arena *arena);

#endif
