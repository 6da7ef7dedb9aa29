(() => {
  let picked = "";
  const pick = (number) => {
    picked = number;
    document.body.classList.toggle("picked", number !== "");
    for (const one of document.querySelectorAll("[data-seam]")) {
      one.classList.toggle("on", one.dataset.seam === number);
      if (one.tagName === "BUTTON") one.setAttribute("aria-pressed", String(one.dataset.seam === number));
    }
  };
  document.addEventListener("click", (event) => {
    const seam = event.target.closest("[data-seam]");
    if (seam) pick(seam.dataset.seam === picked ? "" : seam.dataset.seam);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") pick("");
  });
  const news = document.body.dataset.news;
  if (!news) return;
  const rest = (time) => new Promise((done) => setTimeout(done, time));
  const renew = (text) => {
    const fresh = new DOMParser().parseFromString(text, "text/html");
    const open = [...document.querySelectorAll("details[open]")].map((one) => one.id);
    const held = document.activeElement && document.activeElement.dataset.seam;
    document.querySelector("main").replaceWith(fresh.querySelector("main"));
    document.title = fresh.title;
    for (const id of open) document.getElementById(id)?.setAttribute("open", "");
    pick(document.querySelector(`button[data-seam="${picked}"]`) ? picked : "");
    if (held) document.querySelector(`button[data-seam="${held}"]`)?.focus({ preventScroll: true });
  };
  const tell = (isLost) => {
    document.getElementById("lost").hidden = !isLost;
  };
  const watch = async () => {
    for (;;) {
      try {
        const answer = await fetch(news + document.querySelector("main").dataset.number, { cache: "no-store" });
        if (!answer.ok) throw new Error(String(answer.status));
        if (answer.status === 200) renew(await answer.text());
        tell(false);
      } catch {
        tell(true);
        await rest(1000);
      }
    }
  };
  watch();
})();
