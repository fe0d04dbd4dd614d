// The slips that may lie at the right, in the order of their buttons.

import type { Slip } from "./slips";
import { sendSlip } from "./compare/send";
import { compareSlip } from "./compare/slip";
import { changeSlip } from "./slips/change";
import { cutSlip } from "./slips/cut";
import { trySlip } from "./slips/try";
import "./slips/slips.css";

export const kSlips: readonly Slip[] = [changeSlip, trySlip, cutSlip, compareSlip, sendSlip];
