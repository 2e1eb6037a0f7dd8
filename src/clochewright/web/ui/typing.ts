// What somebody is typing while an answer comes in stays as typed: it was not sent yet, so no answer can know of it.

type Asked = CustomEvent<{ elt: Element; requestConfig: { verb: string } }>;

const typing = new Set<string>(); // ids of fields with something in them that was not sent

export const isBeingTyped = (field: Element): boolean => typing.has(field.id);

export function keepTyping(): void {
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (field instanceof HTMLInputElement && field.type === "text" && field.closest("form[hx-post]")) typing.add(field.id);
  });
  document.body.addEventListener("htmx:beforeRequest", (event) => {
    const { elt, requestConfig } = (event as Asked).detail;
    if (requestConfig.verb === "post") for (const field of elt.querySelectorAll("input")) typing.delete(field.id);
  });
  // A browser tells no change of a field that took another's place half typed in: then we do.
  document.addEventListener("focusout", (event) => {
    const field = event.target as HTMLInputElement;
    if (!isBeingTyped(field) || !field.form?.getAttribute("hx-trigger")?.startsWith("change")) return;
    typing.delete(field.id);
    if (field.value !== field.defaultValue) field.dispatchEvent(new Event("change", { bubbles: true }));
  });
}

// Before a piece takes another's place: what is being typed goes over to it.
export function carryTyping(from: Element, to: ParentNode): void {
  const typed = [...from.querySelectorAll("input")].filter(isBeingTyped);
  for (const field of typed) {
    const fresh = to.querySelector<HTMLInputElement>(`input[id="${CSS.escape(field.id)}"]`);
    typing.delete(field.id); // as it is taken away a field loses the focus, which sends nothing
    if (!fresh) continue;
    fresh.value = field.value;
    queueMicrotask(() => typing.add(field.id)); // once all pieces of the answer are in their places
  }
}
