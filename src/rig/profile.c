/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/profile.h"

#include <assert.h>
#include <string.h>

#include "rig/tables.h"

size_t rig_n_appliances(void)
{
	return rig_table_n_appliances;
}

const rig_appliance *rig_appliance_at(size_t i)
{
	assert(i < rig_table_n_appliances);
	return &rig_table_appliances[i];
}

const rig_appliance *rig_appliance_find(const char *id)
{
	for (size_t i = 0; i < rig_table_n_appliances; i++)
		if (strcmp(rig_table_appliances[i].id, id) == 0)
			return &rig_table_appliances[i];
	return NULL;
}

size_t rig_n_chemistries(void)
{
	return rig_table_n_chemistries;
}

const rig_chemistry *rig_chemistry_at(size_t i)
{
	assert(i < rig_table_n_chemistries);
	return &rig_table_chemistries[i];
}

const rig_chemistry *rig_chemistry_find(const char *id)
{
	for (size_t i = 0; i < rig_table_n_chemistries; i++)
		if (strcmp(rig_table_chemistries[i].id, id) == 0)
			return &rig_table_chemistries[i];
	return NULL;
}

size_t rig_n_panel_kinds(void)
{
	return rig_table_n_panels;
}

const rig_panel_kind *rig_panel_kind_at(size_t i)
{
	assert(i < rig_table_n_panels);
	return &rig_table_panels[i];
}

const rig_panel_kind *rig_panel_kind_find(const char *id)
{
	for (size_t i = 0; i < rig_table_n_panels; i++)
		if (strcmp(rig_table_panels[i].id, id) == 0)
			return &rig_table_panels[i];
	return NULL;
}

size_t rig_n_supplies(void)
{
	return rig_table_n_supplies;
}

const rig_supply *rig_supply_at(size_t i)
{
	assert(i < rig_table_n_supplies);
	return &rig_table_supplies[i];
}

const rig_supply *rig_supply_find(const char *id)
{
	for (size_t i = 0; i < rig_table_n_supplies; i++)
		if (strcmp(rig_table_supplies[i].id, id) == 0)
			return &rig_table_supplies[i];
	return NULL;
}

size_t rig_n_conductor_sizes(void)
{
	return rig_table_n_conductors;
}

const rig_conductor_size *rig_conductor_size_at(size_t i)
{
	assert(i < rig_table_n_conductors);
	return &rig_table_conductors[i];
}

size_t rig_n_standard_ratings(void)
{
	return rig_table_n_ratings;
}

const rig_standard_rating *rig_standard_rating_at(size_t i)
{
	assert(i < rig_table_n_ratings);
	return &rig_table_ratings[i];
}
