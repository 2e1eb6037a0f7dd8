// The page's script: htmx, undo keys, the drawing that follows the plan. Without it every form still posts and the page reads well.

import htmx from "htmx.org";

import "./css/page.css";
import { followPlan } from "./live";
import { watchTicks } from "./workshop";

htmx.config.includeIndicatorStyles = false; // the page's policy allows no inline style
htmx.config.allowEval = false;
htmx.config.historyEnabled = false;
htmx.config.defaultSettleDelay = 0;
htmx.config.selfRequestsOnly = true;

document.documentElement.classList.add("scripted");
followPlan();
watchTicks();
