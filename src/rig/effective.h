/* SPDX-License-Identifier: GPL-3.0-or-later */
/* effective.h: what a stated coach comes to where it leaves things out; shared by the checks and by
 * the completion. */
#ifndef RIG_EFFECTIVE_H
#define RIG_EFFECTIVE_H

#include "rigbudget/coach.h"

/* DC if a bank is named, else AC, unless it is said. */
rig_supply_kind rig_circuit_supply(const rig_circuit *circuit);
/* appliance and circuit may be NULL. */
rig_supply_kind rig_load_supply(
	const rig_load *load, const rig_appliance *appliance, const rig_circuit *circuit);
rig_bank_role rig_role_of(const rig_bank *bank);
int rig_n_house_banks(const rig_coach *coach);
/* Index of the only house bank, or -1 if there is none or are several. */
int rig_only_house_bank(const rig_coach *coach);
/* Hours from from_hour to to_hour, through midnight if it ends before; both 0 to 24. */
int rig_window_h(int from_hour, int to_hour);

#endif
