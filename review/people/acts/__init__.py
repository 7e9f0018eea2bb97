"""What lets people in and keeps them out: setup, invitations, membership, and links to sign in again."""

from __future__ import annotations

from review.people.acts.invitations import (
    accept_invitation,
    find_invitation,
    invite,
    join_as,
    joined_by,
    make_mailed_link,
    withdraw_invitation,
)
from review.people.acts.membership import (
    RoleInProduction,
    change_role,
    let_back_in,
    remove_member,
    role_in_production,
)
from review.people.acts.new_passwords import new_password_path, send_new_password_link
from review.people.acts.productions import start_production
from review.people.acts.refusals import AddressTaken, AlreadyMember, CodeSpent, LinkRefused, Refused
from review.people.acts.setup import another_setup_code, check_setup_code, new_setup_code, set_up_first_writer
from review.people.acts.sign_in_links import (
    acknowledge_links,
    end_link_sessions,
    find_sign_in_link,
    links_to_tell_of,
    make_link_at_terminal,
    make_sign_in_link,
    members_to_make_links_for,
    shut_links,
    use_sign_in_link,
)

__all__ = [
    "AddressTaken",
    "AlreadyMember",
    "CodeSpent",
    "LinkRefused",
    "Refused",
    "RoleInProduction",
    "accept_invitation",
    "acknowledge_links",
    "another_setup_code",
    "change_role",
    "check_setup_code",
    "end_link_sessions",
    "find_invitation",
    "find_sign_in_link",
    "invite",
    "join_as",
    "joined_by",
    "let_back_in",
    "links_to_tell_of",
    "make_link_at_terminal",
    "make_mailed_link",
    "make_sign_in_link",
    "members_to_make_links_for",
    "new_password_path",
    "new_setup_code",
    "remove_member",
    "role_in_production",
    "send_new_password_link",
    "set_up_first_writer",
    "shut_links",
    "start_production",
    "use_sign_in_link",
    "withdraw_invitation",
]
