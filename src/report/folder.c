/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/folder.h"

#include <assert.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "filing.h"

enum { MOST_NAME_BYTES = 48 };

struct rig_folder {
	rig_arena *arena;
	size_t n, room;
	rig_folder_file *files;
};

rig_folder *rig_folder_new(void)
{
	rig_folder *folder = calloc(1, sizeof *folder);
	if (folder == NULL)
		return NULL;
	folder->arena = rig_arena_new();
	if (folder->arena == NULL) {
		free(folder);
		return NULL;
	}
	return folder;
}

void rig_folder_free(rig_folder *folder)
{
	if (folder == NULL)
		return;
	free(folder->files);
	rig_arena_free(folder->arena);
	free(folder);
}

size_t rig_folder_n_files(const rig_folder *folder)
{
	return folder->n;
}

const rig_folder_file *rig_folder_file_at(const rig_folder *folder, size_t i)
{
	assert(i < folder->n);
	return &folder->files[i];
}

/* A letter in lower case or a digit; 0 for any other character. */
static char plain_letter(char character)
{
	if (character >= 'A' && character <= 'Z')
		return (char)(character - 'A' + 'a');
	const bool plain =
		(character >= 'a' && character <= 'z') || (character >= '0' && character <= '9');
	return (char)(plain ? character : 0);
}

/* Where a name that was cut is cut again, so that it ends with a whole word. */
static size_t whole_words(const char *stem, size_t n)
{
	for (size_t i = n; i > MOST_NAME_BYTES / 2; i--) {
		if (stem[i - 1] == '-')
			return i - 1;
	}
	return n;
}

/* The plain letters and digits of the words, with a hyphen for what lies between. */
static void make_stem(const char *words, char stem[MOST_NAME_BYTES + 1])
{
	size_t n = 0;
	bool gap = false;
	for (; *words != '\0' && n < MOST_NAME_BYTES; words++) {
		const char letter = plain_letter(*words);
		if (letter == 0) {
			gap = gap || *words != '\''; /* the day's energy: the-days-energy */
			continue;
		}
		if (gap && n > 0 && n + 1 < MOST_NAME_BYTES)
			stem[n++] = '-';
		stem[n++] = letter;
		gap = false;
	}
	if (plain_letter(*words) != 0)
		n = whole_words(stem, n);
	stem[n] = '\0';
}

static bool is_taken(const rig_folder *folder, const char *name)
{
	for (size_t i = 0; i < folder->n; i++) {
		if (strcmp(folder->files[i].name, name) == 0)
			return true;
	}
	return false;
}

static const char *free_name(rig_folder *folder, const char *words, const char *ending)
{
	char stem[MOST_NAME_BYTES + 1];
	make_stem(words, stem);
	const char *first = stem[0] == '\0' ? "unnamed" : stem;
	const char *name = rig_arena_format(folder->arena, "%s%s", first, ending);
	for (int i = 2; name != NULL && is_taken(folder, name); i++)
		name = rig_arena_format(folder->arena, "%s-%d%s", first, i, ending);
	return name;
}

static bool make_room(rig_folder *folder)
{
	if (folder->n < folder->room)
		return true;
	const size_t room = folder->room == 0 ? 16 : 2 * folder->room;
	rig_folder_file *files = realloc(folder->files, room * sizeof *files);
	if (files == NULL)
		return false;
	folder->files = files;
	folder->room = room;
	return true;
}

const char *rig_folder_add(
	rig_folder *folder, const char *words, const char *ending, rig_buffer *text)
{
	const char *name = text->failed ? NULL : free_name(folder, words, ending);
	char *copy = name == NULL ? NULL : rig_arena_take(folder->arena, text->length + 1, 1);
	if (copy != NULL && text->length > 0)
		memcpy(copy, text->text, text->length);
	const size_t length = text->length;
	rig_buffer_free(text);
	if (copy == NULL || !make_room(folder))
		return NULL;
	folder->files[folder->n++] = (rig_folder_file){name, copy, length};
	return name;
}
