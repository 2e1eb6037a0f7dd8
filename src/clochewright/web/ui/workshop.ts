// The cut list in the workshop: a tick shows at once, is kept on this phone until the server has it, and is sent again later.

const WAITING = "clochewright-ticks";

interface Tick {
  action: string;
  body: string;
}

function waiting(): Tick[] {
  try {
    return JSON.parse(localStorage.getItem(WAITING) ?? "[]") as Tick[];
  } catch {
    return [];
  }
}

async function send(): Promise<void> {
  let left = waiting();
  while (left.length) {
    const tick = left[0]!;
    try {
      const answer = await fetch(tick.action, {
        method: "POST",
        headers: { "content-type": "application/x-www-form-urlencoded", "hx-request": "true" },
        body: tick.body,
      });
      if (!answer.ok && answer.status >= 500) break;
    } catch {
      break; // no network in the shed: it stays in the list
    }
    left = waiting().slice(1);
    localStorage.setItem(WAITING, JSON.stringify(left));
  }
  document.documentElement.classList.toggle("unsent", waiting().length > 0);
}

export function watchTicks(): void {
  const sheet = document.querySelector<HTMLElement>("#workshop");
  if (!sheet) return;
  sheet.addEventListener("change", (event) => {
    const box = event.target as HTMLInputElement;
    if (box.type !== "checkbox" || !box.form) return;
    for (const [count, rows] of [["#cut-done", ".cut"], ["#build-done", ".build-tick"]]) {
      const done = sheet.querySelector(count!);
      if (done) done.textContent = String(sheet.querySelectorAll(`${rows} input:checked`).length);
    }
    const body = new URLSearchParams(new FormData(box.form) as unknown as Record<string, string>);
    body.set("done", box.checked ? "yes" : "no");
    localStorage.setItem(WAITING, JSON.stringify([...waiting(), { action: box.form.action, body: body.toString() }]));
    void send();
  });
  addEventListener("online", () => void send());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void send());
  void send();
}
