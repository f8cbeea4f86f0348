"""The people of a shop over a store: who may record what, and whose key signs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.because import Fault, Refusal, Refused, WrongInput
from tenthbook.record.ledger import SIGNED_KINDS, Draft, Entry, NoSuchStream, Sign, Store, draft_of
from tenthbook.record.ledger.stream import Since
from tenthbook.record.shop import SHOP_KINDS, ShopState, admit_shop, fold_shop, refuse_by_role, refuse_signature

SHOP = "shop"


class People:
    """A store, and the people recorded in it."""

    def __init__(self, store: Store) -> None:
        """Work over a store.

        Args:
            store: Any store of the ledger's interface.
        """
        self.store = store
        self._state = ShopState()

    def _fold(self, since: Since) -> ShopState:
        self._state = fold_shop(since(self._state.number), self._state)
        return self._state

    def state(self) -> ShopState:
        """Say who works here.

        Returns:
            The fold of the shop's stream; empty before the shop was opened.
        """
        try:
            return self._fold(lambda after: self.store.entries(SHOP, after))
        except NoSuchStream:
            return ShopState()

    def refusals(self, proposal: Draft) -> tuple[Refusal, ...]:
        """Judge who proposes an act of a job.

        Args:
            proposal: The act.

        Returns:
            What its person may not do; empty on a bench where nobody is enrolled.
        """
        shop = self.state()
        by_role = refuse_by_role(shop, proposal.person, proposal.kind)
        if proposal.kind not in SIGNED_KINDS:
            return by_role
        return (*by_role, *refuse_signature(shop, proposal.person, str(proposal.data.get("key"))))

    def record(self, kind: str, data: Mapping[str, Any], act: Mapping[str, str], sign: Sign | None = None) -> Entry:
        """Record an act of the shop.

        Args:
            kind: Kind of the entry.
            data: Its fields.
            act: Person, request and time.
            sign: Signs the body, for an endorsement and a revocation.

        Returns:
            The entry.

        Raises:
            WrongInput: fields that do not fit the kind.
            Refused: rules the act would break; nothing was written.
        """
        proposal = draft_of(SHOP_KINDS, kind, data, seen=self.state().head, **act)

        def judge(since: Since) -> None:
            refusals = admit_shop(self._fold(since), proposal)
            if refusals:
                raise Refused(refusals)

        return self.store.append(SHOP, proposal, judge, sign=sign)

    def judge(self, kind: str, data: Mapping[str, Any], act: Mapping[str, str]) -> None:
        """Refuse an act of the shop beforehand, where something else is done first.

        Args:
            kind: Kind of the entry.
            data: Its fields.
            act: Person, request and time.

        Raises:
            WrongInput: fields that do not fit the kind.
            Refused: rules the act would break.
        """
        state = self.state()
        refusals = admit_shop(state, draft_of(SHOP_KINDS, kind, data, seen=state.head, **act))
        if refusals:
            raise Refused(refusals)

    def withhold(self, named: Entry, of_stream: str, reason: str, ground: str, act: Mapping[str, str]) -> Entry:
        """Take away what an entry names beside it: a photograph, or who a person is.

        Args:
            named: The entry that names it.
            of_stream: The stream of that entry.
            reason: Why it is taken away.
            ground: The law, or the order.
            act: Person, request and time.

        Returns:
            The entry of the shop that says so; the bytes are gone from the store.

        Raises:
            WrongInput: the entry names nothing that lies beside it.
            Refused: rules the act would break; nothing was written or taken away.
        """
        beside = [text for name, text in named.data.items() if name.endswith("_detached") and text]
        if not beside:
            found = f"entry {named.number}, {named.kind}"
            raise WrongInput([Fault("entry", found, "an entry with a photograph, or with personal data")])
        data = {"of_stream": of_stream, "entry": named.number, "commitment": beside[0]}
        entry = self.record("blob withheld", {**data, "reason": reason, "ground": ground}, act)
        self.store.withhold(beside[0], entry.hash)
        return entry

    def take_away(self) -> list[str]:
        """Finish what a withholding began before the machine stopped.

        Returns:
            Commitments of what was recorded as withheld and still lay there.
        """
        left = {name: one for name, one in self.state().withheld.items() if name not in self.store.withheld()}
        for commitment in left:
            (entry,) = self.store.entries(SHOP, left[commitment].entry - 1)[:1]
            self.store.withhold(commitment, entry.hash)
        return list(left)

    def open(self, name: str, act: Mapping[str, str], *, installation: str = "bench", invented: bool = False) -> Entry:
        """Open the shop's stream.

        Args:
            name: Name of the shop.
            act: Person, request and time.
            installation: Id of the installation.
            invented: True for a demonstration.

        Returns:
            The entry.
        """
        data = {"stream": SHOP, "installation": installation, "name": name, "invented": invented}
        return self.record("shop opened", data, act)

    def anchor(self, stream: str, entry: Entry, act: Mapping[str, str]) -> Entry | None:
        """Lay the head of a job down in the shop's stream.

        Args:
            stream: Id of the job.
            entry: Its last entry.
            act: Person, request and time.

        Returns:
            The entry; None where no shop was opened, or where this head or a later one lies there already.
        """
        state = self.state()
        before = state.anchors.get(stream, ())
        if state.number < 0 or (before and before[-1].number >= entry.number):
            return None
        try:
            return self.record("head anchored", {"of_stream": stream, "number": entry.number, "head": entry.hash}, act)
        except Refused:  # somebody anchored a later head meanwhile, which holds this one too
            if self.state().anchors.get(stream, ())[-1:][0].number >= entry.number:
                return None
            raise
