/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.h: options out of a tree that was read already. */
#ifndef ANSWER_REQUEST_H
#define ANSWER_REQUEST_H

#include <cjson/cJSON.h>

#include "rigbudget/answer.h"

/* As rig_answer_request_read; faults have no line. The tree must outlive the request. */
rig_status rig_answer_request_of(
	const cJSON *options, const rig_file *file, rig_diags *diags, rig_answer_request **request);

#endif
