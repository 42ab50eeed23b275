/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rig/effective.h"

#include <string.h>

rig_supply_kind rig_circuit_supply(const rig_circuit *circuit)
{
	if (circuit->supply != RIG_SUPPLY_UNSET)
		return circuit->supply;
	return circuit->bank != NULL ? RIG_DC : RIG_AC;
}

rig_supply_kind rig_load_supply(
	const rig_load *load, const rig_appliance *appliance, const rig_circuit *circuit)
{
	if (load->supply != RIG_SUPPLY_UNSET)
		return load->supply;
	if (appliance != NULL)
		return appliance->supply;
	return circuit != NULL ? rig_circuit_supply(circuit) : RIG_AC;
}

rig_bank_role rig_role_of(const rig_bank *bank)
{
	if (bank->role != RIG_ROLE_UNSAID)
		return bank->role;
	const bool starts = bank->chemistry != NULL && strcmp(bank->chemistry, "starting") == 0;
	return starts ? RIG_CHASSIS : RIG_HOUSE;
}

int rig_n_house_banks(const rig_coach *coach)
{
	int n = 0;
	for (size_t i = 0; i < coach->n_banks; i++)
		n += rig_role_of(&coach->banks[i]) == RIG_HOUSE;
	return n;
}

int rig_only_house_bank(const rig_coach *coach)
{
	int found = -1;
	for (size_t i = 0; i < coach->n_banks; i++) {
		if (rig_role_of(&coach->banks[i]) != RIG_HOUSE)
			continue;
		if (found >= 0)
			return -1;
		found = (int)i;
	}
	return found;
}

int rig_window_h(int from_hour, int to_hour)
{
	const int span = (to_hour - from_hour + 24) % 24;
	return span == 0 && from_hour != to_hour ? 24 : span;
}
