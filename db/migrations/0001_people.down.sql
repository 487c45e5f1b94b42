drop table audit, class_pair, enrolment, class_staff, class, holiday, term, invitation, guardian, child_detail, child, staff_detail, staff,
  sign_in_attempt, session, account_role, account_secret, account;
