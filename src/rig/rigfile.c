/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "rig/complete.h"
#include "rigbudget/coach.h"

struct rig_file {
	rig_arena *arena;
	rig_coach stated, completed;
	rig_standing standing;
};

/* Reads and checks; the reader's faults say whether the file is right. */
static rig_status read_into(rig_file *file, const rig_json *json, rig_diags *diags)
{
	rig_reader reader = {
		.arena = file->arena, .json = json, .diags = diags, .coach = &file->stated};
	const size_t before = rig_diags_faults(diags);
	const bool readable = rig_read_coach(&reader);
	if (readable && !reader.no_memory)
		rig_check_references(&reader);
	if (readable && !reader.no_memory)
		rig_check_consistency(&reader);
	const bool right = readable && rig_diags_faults(diags) == before;
	if (right && !reader.no_memory)
		rig_complete_coach(&reader, &file->completed, &file->standing);
	free(reader.records);
	/* A remark that was lost counts as a fault. */
	if (reader.no_memory || (right && rig_diags_faults(diags) != before))
		return RIG_NO_MEMORY;
	return right ? RIG_OK : RIG_BAD_INPUT;
}

static rig_status parse(const char *text, size_t length, rig_diags *diags, rig_file **file)
{
	rig_json *json = NULL;
	rig_file *made = NULL;
	rig_status status = rig_json_read(text, length, diags, &json);
	*file = NULL;
	if (status != RIG_OK)
		goto out;
	made = calloc(1, sizeof *made);
	if (made != NULL)
		made->arena = rig_arena_new();
	if (made == NULL || made->arena == NULL) {
		status = RIG_NO_MEMORY;
		goto out;
	}
	status = read_into(made, json, diags);
	if (status == RIG_OK) {
		*file = made;
		made = NULL;
	}
out:
	rig_file_free(made);
	rig_json_free(json);
	return status;
}

rig_status rig_file_parse(const char *text, size_t length, rig_diags *diags, rig_file **file)
{
	if (diags != NULL)
		return parse(text, length, diags, file);
	/* the reader tells by the list whether all was well */
	rig_diags *unread = rig_diags_new();
	*file = NULL;
	if (unread == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = parse(text, length, unread, file);
	rig_diags_free(unread);
	return status;
}

void rig_file_free(rig_file *file)
{
	if (file == NULL)
		return;
	rig_arena_free(file->arena);
	free(file);
}

const rig_coach *rig_file_coach(const rig_file *file)
{
	return &file->stated;
}

const rig_coach *rig_file_completed(const rig_file *file)
{
	return &file->completed;
}

const rig_place *rig_file_place(const rig_file *file, double *distance_km)
{
	if (distance_km != NULL)
		*distance_km = file->standing.distance_km;
	return file->standing.index < 0 ? NULL : &file->standing.place;
}

char *rig_file_text(const rig_file *file)
{
	return rig_coach_text(&file->stated);
}

void rig_coach_clear(rig_coach *coach)
{
	rig_object_clear(RIG_OBJECT_COACH, coach);
}

void rig_circuit_clear(rig_circuit *circuit)
{
	rig_object_clear(RIG_OBJECT_CIRCUIT, circuit);
}

void rig_load_clear(rig_load *load)
{
	rig_object_clear(RIG_OBJECT_LOAD, load);
}

void rig_bank_clear(rig_bank *bank)
{
	rig_object_clear(RIG_OBJECT_BANK, bank);
}

void rig_array_clear(rig_array *array)
{
	rig_object_clear(RIG_OBJECT_ARRAY, array);
}

void rig_use_clear(rig_use *use)
{
	rig_object_clear(RIG_OBJECT_USE, use);
}

void rig_wire_clear(rig_wire *wire)
{
	rig_object_clear(RIG_OBJECT_WIRE, wire);
}

void rig_claim_clear(rig_claim *claim)
{
	rig_object_clear(RIG_OBJECT_CLAIM, claim);
	claim->bank_index = claim->array_index = -1;
}
