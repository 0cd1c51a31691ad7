"""Who may do what inside a company. (Which company's rows a request sees at all is server.scope's affair.)"""

from __future__ import annotations

from webui.page import Person, Ref

ROLES = ("technician", "supervisor")


def is_supervisor(person: Person) -> bool:
    return person.role == "supervisor"


def may_enter(person: Person, area: str) -> bool:
    """Whether a person may open pages of an area of the route table ("desk" or "office")."""
    return area != "office" or is_supervisor(person)


def may_write(person: Person, kind: str, subject: Ref) -> bool:
    """Whether a person may write an entry of a kind about a subject.

    Of people, a technician writes only their own preferences; who is who is the supervisor's affair.
    """
    if subject.kind != "person" or is_supervisor(person):
        return True
    return subject.id == person.id and kind == "preference"
