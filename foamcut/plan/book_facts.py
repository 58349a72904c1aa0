"""What the build book is made from, out of a plan."""

from foamcut.airframe.model import assembled
from foamcut.book.facts import AsBuilt, Bought, Facts, Revised
from foamcut.flight.values import Cut
from foamcut.plan.shopping import shopping_rows
from foamcut.plan.values import Plan
from foamcut.write.table import ShoppingRow


def book_facts(plan: Plan) -> Facts:
    """All that the book of a plan is made from."""
    facts = plan.design.plan
    model = plan.model
    return Facts(
        title=plan.title,
        units=facts.units,
        parts=plan.parts,
        cuts=tuple(Cut(piece=piece, count=one.part.count) for one in plan.chosen for piece in one.way.pieces),
        numbers=plan.numbers,
        joints=plan.joints,
        layouts=plan.layouts,
        inputs=model.inputs if model else plan.airframe,
        setup=plan.design.setup,
        standing=model.standing if model else assembled(plan.parts, plan.shells),
        meshes=plan.meshes,
        model=model,
        report=plan.balance,
        bought=tuple(map(_bought, shopping_rows(plan.layouts, plan.design.hardware, facts))),
        revisions=tuple(
            Revised(letter=one.letter, date=one.date.isoformat(), what=one.what)
            for one in plan.design.revisions
        ),
        built=tuple(
            AsBuilt(
                key=one.name,
                drawn=one.drawn_words,
                built=one.value_words,
                why=one.why,
                date=one.date.isoformat(),
            )
            for one in plan.design.built
        ),
        findings=tuple(plan.findings_lines("")),
        summary=plan.summary,
        fit_mm=facts.fit_mm,
        kerf_mm=facts.kerf_mm,
    )


def _bought(row: ShoppingRow) -> Bought:
    cost = "" if row.cost is None else f"{row.cost} {row.currency}".rstrip()
    return Bought(
        kind=row.kind,
        name=row.name,
        size=row.size,
        needed=row.needed,
        on_hand=row.on_hand,
        to_buy=row.to_buy,
        spare=row.spare,
        cost=cost,
    )
